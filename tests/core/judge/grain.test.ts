import { describe, expect, it } from "vitest";
import { weightOf } from "#core/finding.ts";
import { GRAINY_SPECIES_PERCENT, grainySpeciesPercent } from "#core/judge/grain.ts";
import { meltOf } from "#core/judge/melt.ts";
import { judgeInFull } from "#core/judge/whole-judgement.ts";
import { SHEA_BUTTER, SOFT_BLEND, SUNFLOWER_OIL, aBlend } from "../../helpers/ingredients.ts";

const share = (shea: number) =>
  grainySpeciesPercent(meltOf(aBlend([SHEA_BUTTER, shea], [SUNFLOWER_OIL, 100 - shea]))!);

function told(shea: number) {
  const blend = aBlend([SHEA_BUTTER, shea], [SUNFLOWER_OIL, 100 - shea]);
  const { findings } = judgeInFull(blend, { celsius: [], useCelsius: 21 });
  return findings.find(({ code }) => code === "judge.grain.possible");
}

describe("fat that can turn grainy", () => {
  it("is a third of shea butter, mostly SOS: 31 to 34 % by measure and by rule", () => {
    expect(share(100)).toBeGreaterThan(30);
    expect(share(100)).toBeLessThan(45);
  });

  it("thins out with the oil, and hardly any is in sunflower", () => {
    expect(share(50)).toBeCloseTo((share(100) + share(0)) / 2, 6);
    expect(share(0)).toBeLessThan(1);
  });

  it("is told from the limit on and not below it, with the share measured", () => {
    const slope = (share(100) - share(0)) / 100;
    const at = (GRAINY_SPECIES_PERCENT - share(0)) / slope;
    const above = Math.ceil(at * 100) / 100;
    const below = Math.floor(at * 100) / 100 - 0.01;
    expect(told(Number(below.toFixed(2)))).toBeUndefined();
    expect(told(Number(above.toFixed(2)))).toEqual({
      code: "judge.grain.possible",
      subject: "blend",
      measured: 5,
      limit: 5,
      unit: "%",
      mend: "maker",
    });
  });

  it("is told and refuses nothing", () => {
    const { verdict, findings } = judgeInFull(SOFT_BLEND, { celsius: [], useCelsius: 21 });
    const found = findings.find(({ code }) => code === "judge.grain.possible");
    expect(weightOf(found!)).toBe("tells");
    expect(verdict).toBe("orderable");
  });
});

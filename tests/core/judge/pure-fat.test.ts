import { describe, expect, it } from "vitest";
import { estimatePureFat } from "#core/judge/pure-fat-correlation.ts";
import { MEASURED_PURE_FATS } from "#core/judge/pure-fat-measured.ts";
import { parseTriacylglycerol } from "#core/judge/triacylglycerol.ts";

function melting(name: string): number {
  return estimatePureFat(parseTriacylglycerol(name)!).meltingK - 273.15;
}

describe("the estimate of a pure fat", () => {
  it("melts longer chains higher and each double bond lower", () => {
    const longer = ["LaLaLa", "MMM", "PPP", "SSS", "AAA"].map((name) => melting(name));
    expect(longer).toEqual([...longer].sort((one, other) => one - other));
    const looser = ["SSS", "SOS", "SOO", "OOO", "OOL", "OLL", "LLL"].map((n) => melting(n));
    expect(looser).toEqual([...looser].sort((one, other) => other - one));
  });

  it("does not depend on which outer chain is named first", () => {
    expect(melting("SOP")).toBe(melting("POS"));
  });
});

describe("the table of measured fats", () => {
  it("holds melting points and heats a fat can have: -30 to 75 °C, 70 to 200 kJ/mol", () => {
    for (const { beta, beta2 = beta, betaPrime = beta } of Object.values(MEASURED_PURE_FATS)) {
      for (const [meltingC, fusionKJ] of [beta, beta2, betaPrime]) {
        expect(meltingC).toBeGreaterThan(-30);
        expect(meltingC).toBeLessThan(75);
        expect(fusionKJ).toBeGreaterThan(70);
        expect(fusionKJ).toBeLessThan(200);
      }
    }
  });
});

import { describe, expect, it } from "vitest";
import { PUBLISHED_LAW, firmnessClass, yieldPa } from "#core/judge/firmness.ts";
import { leaveOneOut } from "#service/kitchen/leave-one-out.ts";
import { type Evidence, PRIOR, learnLaw } from "#service/kitchen/learn.ts";
import { chanceFrom } from "#core/order/room/sequence.ts";
import { aKitchen, classError, graded, measured } from "./simulated-makers.ts";

const usual = (law: typeof PUBLISHED_LAW) => yieldPa(20, 0.35, law);

function jar(change: Partial<Evidence> = {}): Evidence {
  return { solidFatPercent: 20, airFraction: 0.35, reading: { grade: "soft" }, lot: "", ...change };
}

describe("a simulated maker with known truth", () => {
  const makers = 60;
  const errorsAfter = (jars: number, make: typeof graded) => {
    const draw = chanceFrom(1965);
    let before = 0;
    let after = 0;
    let worse = 0;
    for (let maker = 0; maker < makers; maker++) {
      const truth = aKitchen(draw);
      const evidence = Array.from({ length: jars }, () => make(draw, truth));
      const published = classError(PUBLISHED_LAW, truth);
      const own = classError(learnLaw(evidence).law, truth);
      before += published / makers;
      after += own / makers;
      if (own > published) worse++;
    }
    return { before, after, worse };
  };

  it("sees the class error of new jars fall by more than half after 12 jars felt by finger", () => {
    const { before, after, worse } = errorsAfter(12, graded);
    console.log(
      `12 jars by finger: ${before.toFixed(3)} of classes wrong, then ${after.toFixed(3)}`,
    );
    expect(before).toBeGreaterThan(0.3);
    expect(after).toBeLessThan(before / 2);
    expect(worse).toBe(0);
  });

  it("sees it fall further after 12 jars measured by cone", () => {
    const { before, after } = errorsAfter(12, measured);
    console.log(`12 jars by cone: ${before.toFixed(3)} of classes wrong, then ${after.toFixed(3)}`);
    expect(after).toBeLessThan(before / 6);
    expect(after).toBeLessThan(errorsAfter(12, graded).after);
  });

  it("keeps learning: 40 jars beat 12, and 12 beat 4", () => {
    const [four, twelve, forty] = [4, 12, 40].map((jars) => errorsAfter(jars, graded).after);
    expect(twelve).toBeLessThan(four!);
    expect(forty).toBeLessThan(twelve!);
  });

  it("is told the true constants by many exact jars", () => {
    const draw = chanceFrom(3);
    for (let maker = 0; maker < 5; maker++) {
      const truth = aKitchen(draw);
      const jars = Array.from({ length: 150 }, () => measured(draw, truth, 0));
      const { law } = learnLaw(jars);
      expect(Math.log(usual(law) / usual(truth))).toBeCloseTo(0, 1);
      expect(law.solidsExponent).toBeCloseTo(truth.solidsExponent, 0.7);
      expect(law.airExponent).toBeCloseTo(truth.airExponent, 0.5);
    }
  });
});

describe("shrinkage to the published law", () => {
  it("is whole without a jar", () => {
    const { law, spread, lots } = learnLaw([]);
    expect(law.scalePa).toBeCloseTo(PUBLISHED_LAW.scalePa, 6);
    expect(law).toMatchObject({ solidsExponent: 2, airExponent: 1.5 });
    expect(spread.scale).toBeCloseTo(PRIOR.scale, 10);
    expect(lots.size).toBe(0);
  });

  it("lets one jar move the law part of the way, and each further one less", () => {
    const three = { reading: { yieldPa: 3 * usual(PUBLISHED_LAW) } };
    const factors = [1, 2, 3, 12].map(
      (count) =>
        usual(learnLaw(Array.from({ length: count }, () => jar(three))).law) / usual(PUBLISHED_LAW),
    );
    expect(factors[0]).toBeGreaterThan(1.5);
    expect(factors.at(-1)).toBeLessThan(3);
    for (const [at, factor] of factors.entries()) {
      if (at > 0) expect(factor).toBeGreaterThan(factors[at - 1]!);
    }
  });

  it("agrees with the closed form of a normal prior and a normal reading", () => {
    // One jar where both exponents multiply 0: posterior = prior + w (reading - prior), w = 1/(1 + noise^2/prior^2).
    const noise = Math.hypot(0.3, 0.16);
    const weight = 1 / (1 + (noise / PRIOR.scale) ** 2);
    const { law, spread } = learnLaw([jar({ reading: { yieldPa: 2 * usual(PUBLISHED_LAW) } })]);
    expect(Math.log(usual(law) / usual(PUBLISHED_LAW))).toBeCloseTo(weight * Math.log(2), 8);
    expect(spread.scale).toBeCloseTo(PRIOR.scale * Math.sqrt(1 - weight), 8);
  });

  it("hardly moves when jars feel as the law says", () => {
    const agreeing = [12, 20, 28, 36].map((solidFatPercent) =>
      jar({ solidFatPercent, reading: { grade: firmnessClass(yieldPa(solidFatPercent, 0.35)) } }),
    );
    expect(usual(learnLaw(agreeing).law) / usual(PUBLISHED_LAW)).toBeCloseTo(1, 0.5);
  });

  it("stands a jar at the far end of the scale without losing a figure", () => {
    for (const grade of ["fluid", "hard"] as const) {
      for (const solidFatPercent of [1, 95]) {
        const { law } = learnLaw([jar({ solidFatPercent, reading: { grade } })]);
        expect(Number.isFinite(law.scalePa) && law.scalePa > 0).toBe(true);
        expect(law.solidsExponent).toBeGreaterThan(0);
      }
    }
  });
});

describe("a lot that is odd", () => {
  it("carries part of the blame, and does not pull the kitchen's law as a plain jar would", () => {
    const draw = chanceFrom(11);
    const sound = Array.from({ length: 10 }, () => measured(draw, PUBLISHED_LAW, 0.05, "A"));
    const odd = Array.from({ length: 4 }, () => {
      const { reading, ...rest } = measured(draw, PUBLISHED_LAW, 0.05, "B");
      return { ...rest, reading: { yieldPa: 1.8 * (reading as { yieldPa: number }).yieldPa } };
    });
    const told = learnLaw([...sound, ...odd]);
    const untold = learnLaw([...sound, ...odd].map((each) => ({ ...each, lot: "" })));
    expect(told.lots.get("B")).toBeGreaterThan(1.1);
    expect(told.lots.get("A")).toBeLessThan(1);
    const pull = (law: typeof PUBLISHED_LAW) =>
      Math.abs(Math.log(usual(law) / usual(PUBLISHED_LAW)));
    expect(told.lots.get("B")).toBeGreaterThan(told.lots.get("A")!);
    expect(pull(told.law)).toBeLessThan(Math.log(1.8));
    expect(untold.lots.size).toBe(0);
  });
});

describe("leaving one out", () => {
  it("counts the jars the published law calls wrongly and those the others' law does", () => {
    const draw = chanceFrom(5);
    const truth = aKitchen(draw);
    const jars = Array.from({ length: 12 }, () => measured(draw, truth, 0.05));
    const { before, after, jars: count } = leaveOneOut(jars);
    expect(count).toBe(12);
    expect(before).toBeGreaterThan(after);
  });

  it("lets no jar vouch for itself", () => {
    // Alone, a jar is called by the law of no jars: the published one.
    const odd = jar({ reading: { grade: "hard" } });
    expect(leaveOneOut([odd])).toEqual({ jars: 1, before: 1, after: 1 });
  });

  it("is nothing of nothing", () => {
    expect(leaveOneOut([])).toEqual({ jars: 0, before: 0, after: 0 });
  });
});

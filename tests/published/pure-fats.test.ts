/**
 * Pure triacylglycerols: the correlation of Wesdorp (thesis, TU Delft, 1990; parameters as republished by Moorthy et
 * al., JAOCS 2016/17, doi 10.1007/s11746-016-2935-1) against its own published test run and against measured species.
 */
import { describe, expect, it } from "vitest";
import { estimatePureFat } from "#core/judge/pure-fat-correlation.ts";
import { MEASURED_PURE_FATS } from "#core/judge/pure-fat-measured.ts";
import { parseTriacylglycerol } from "#core/judge/triacylglycerol.ts";

const ZERO_C = 273.15;

function beta(name: string): { meltingC: number; fusionKJ: number } {
  const { meltingK, fusionJPerMol } = estimatePureFat(parseTriacylglycerol(name)!);
  return { meltingC: meltingK - ZERO_C, fusionKJ: fusionJPerMol / 1000 };
}

describe("the correlation against a published test run of the same parameters", () => {
  it.each([
    ["PPP", 64.48, 168.02],
    ["OPL", 6.874, 103.768],
  ])("gives beta %s %d °C and %d kJ/mol, to 0.01 K and 0.01 kJ/mol", (name, celsius, kJ) => {
    expect(Math.abs(beta(name).meltingC - celsius)).toBeLessThanOrEqual(0.01);
    expect(Math.abs(beta(name).fusionKJ - kJ)).toBeLessThanOrEqual(0.01);
  });
});

describe("the correlation worked by hand from the printed parameters", () => {
  it.each([
    ["SOS", 44.9, 161],
    ["POP", 37.7, 143],
    ["OOO", 6.3, 101],
  ])("gives beta %s %d °C and %d kJ/mol, to the digits noted", (name, celsius, kJ) => {
    expect(Math.abs(beta(name).meltingC - celsius)).toBeLessThanOrEqual(0.06);
    expect(Math.abs(beta(name).fusionKJ - kJ)).toBeLessThanOrEqual(0.6);
  });

  it("counts pairs of unsaturated chains: OOO 1.3 K off the 5 °C measured, LLL and LnLnLn within 1 K", () => {
    expect(Math.abs(beta("OOO").meltingC - 5)).toBeLessThan(1.4);
    expect(Math.abs(beta("LLL").meltingC - -13)).toBeLessThan(1.1);
    expect(Math.abs(beta("LnLnLn").meltingC - -24.2)).toBeLessThan(1);
  });
});

describe("the correlation against measured beta melting points (compilations, from memory)", () => {
  const errors = Object.entries(MEASURED_PURE_FATS).map(([name, { beta: measured }]) => ({
    name,
    error: beta(name).meltingC - measured[0],
  }));

  it("is off by 1.7 K on average and by 6.4 K at worst (PLO, which is measured at -3 °C)", () => {
    const mean = errors.reduce((sum, { error }) => sum + Math.abs(error), 0) / errors.length;
    const worst = errors.reduce((one, other) =>
      Math.abs(one.error) > Math.abs(other.error) ? one : other,
    );
    expect(mean).toBeLessThan(1.8);
    expect(Math.abs(worst.error)).toBeLessThan(6.6);
  });
});

describe("the table of measured species", () => {
  it("names each species the way the model looks it up, so that none is passed over", () => {
    for (const name of Object.keys(MEASURED_PURE_FATS)) {
      expect(parseTriacylglycerol(name)?.name).toBe(name);
    }
  });

  it("holds the cocoa species of the Sato group as remembered: POP 36.7, 35.1 and 33.5, SOS 43, 41 and 36.5 °C", () => {
    expect(MEASURED_PURE_FATS["POP"]).toEqual({
      beta: [36.7, 130],
      beta2: [35.1, 124.4],
      betaPrime: [33.5, 98.3],
    });
    expect(MEASURED_PURE_FATS["SOS"]).toEqual({
      beta: [43, 151],
      beta2: [41, 143],
      betaPrime: [36.5, 104.8],
    });
  });

  it("lets beta-prime melt below beta-2 and beta-2 below beta-1, with heats in the same order", () => {
    const several = Object.values(MEASURED_PURE_FATS)
      .map(({ betaPrime, beta2, beta: stable }) => [betaPrime, beta2, stable].filter((f) => !!f))
      .filter((forms) => forms.length > 1);
    expect(several.length).toBeGreaterThanOrEqual(6);
    for (const forms of several) {
      for (const [at, form] of forms.entries()) {
        if (at === 0) continue;
        expect(form[0]).toBeGreaterThan(forms[at - 1]![0]);
        expect(form[1]).toBeGreaterThan(forms[at - 1]![1]);
      }
    }
  });
});

import { describe, expect, it } from "vitest";
import { estimatePureFat } from "#core/judge/pure-fat-correlation.ts";
import { crystallise } from "#core/judge/species.ts";
import { parseTriacylglycerol } from "#core/judge/triacylglycerol.ts";

const ZERO_C = 273.15;

function species(name: string) {
  return crystallise(parseTriacylglycerol(name)!);
}

function melts(name: string, state: "settled" | "fresh"): number | undefined {
  const crystal = species(name)[state];
  return crystal && crystal.meltingK - ZERO_C;
}

describe("how a species crystallises", () => {
  it("takes the measured beta and beta-prime points where they are known", () => {
    expect(melts("SOS", "settled")).toBeCloseTo(41, 6); // beta-2, form V; beta-1 melts at 43
    expect(melts("POP", "settled")).toBeCloseTo(35.1, 6);
    expect(melts("POS", "settled")).toBeCloseTo(37, 6); // it has one beta form
    expect(melts("SOS", "fresh")).toBeCloseTo(36.5, 6);
    expect(melts("POO", "settled")).toBeCloseTo(19, 6);
    expect(melts("POO", "fresh")).toBeCloseTo(2.5, 6);
  });

  it("lowers beta-prime by analogy where only beta was measured: 5 K for two saturated chains, 15 K for one", () => {
    expect(melts("SOA", "settled")! - melts("SOA", "fresh")!).toBeCloseTo(5, 6);
    expect(melts("OSO", "settled")! - melts("OSO", "fresh")!).toBeCloseTo(15, 6);
  });

  it("sets species without, or with only, saturated chains the same fresh as settled", () => {
    for (const name of ["PPP", "SSS", "OOO"]) {
      expect(species(name).fresh).toEqual(species(name).settled);
    }
  });

  it("estimates what nobody measured", () => {
    const { settled } = species("BOS");
    expect(settled).toEqual(estimatePureFat(parseTriacylglycerol("BOS")!));
  });

  it("counts a species as liquid when it melts below -10 °C, and not when it melts at -10", () => {
    expect(species("LLL").settled).toBeUndefined(); // -13
    expect(melts("OLL", "settled")).toBeCloseTo(-10, 6);
    expect(melts("OOL", "settled")).toBeCloseTo(-7, 6);
  });

  it("lets a species set when settled and stay liquid when fresh", () => {
    expect(melts("PLO", "settled")).toBeCloseTo(-3, 6);
    expect(species("PLO").fresh).toBeUndefined(); // -18
  });

  it("never lets castor's ricinoleic species set", () => {
    expect(species("RRR").settled).toBeUndefined();
    expect(species("SRS").settled).toBeUndefined();
  });

  it("puts species of fewer than 46 acyl carbons into the lauric solid solution, and 46 not", () => {
    expect(species("LaMO")).toMatchObject({ lauric: true }); // 44
    expect(species("LaPP")).toMatchObject({ lauric: true }); // 44
    expect(species("LaPO")).toMatchObject({ lauric: false }); // 46
    expect(species("LaLaLa").fresh).toEqual(species("LaLaLa").settled);
  });

  it("counts lauric species that melt nearest the same degree as one, with one heat for all", () => {
    expect(melts("LaLaLa", "settled")).toBeCloseTo(24, 6); // beta 45.0 by the correlation, less 21
    const close = ["LaLaM", "LaLaP"].map((name) => ({ name, melts: melts(name, "settled")! }));
    expect(
      close.every(({ melts: celsius }) => Number.isInteger(Math.round(celsius * 1e6) / 1e6)),
    ).toBe(true);
    const heats = ["LaLaLa", "LaMM", "LaOLa", "MMM"].map((n) => species(n).settled!.fusionJPerMol);
    expect(new Set(heats)).toEqual(new Set([350_000]));
  });

  it("gives back the very same object for the same species, so that ingredients share it", () => {
    expect(species("SOP")).toBe(species("POS"));
  });
});

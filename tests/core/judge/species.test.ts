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
    expect(melts("SOS", "settled")).toBeCloseTo(43, 6);
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
    expect(settled).toEqual(estimatePureFat(parseTriacylglycerol("BOS")!, "beta"));
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

  it("gives back the very same object for the same species, so that ingredients share it", () => {
    expect(species("SOP")).toBe(species("POS"));
  });
});

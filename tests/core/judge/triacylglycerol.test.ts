import { describe, expect, it } from "vitest";
import { fattyAcidByLetter } from "#core/judge/fatty-acid.ts";
import { parseTriacylglycerol, triacylglycerol } from "#core/judge/triacylglycerol.ts";

describe("a triacylglycerol", () => {
  it("is read from its name with carbons, double bonds and mass", () => {
    expect(parseTriacylglycerol("POS")).toMatchObject({
      name: "POS",
      carbons: 52,
      doubleBonds: 1,
      unsaturatedChains: 1,
    });
    expect(parseTriacylglycerol("OOO")!.molarMass).toBeCloseTo(885.45, 1); // triolein
    expect(parseTriacylglycerol("PPP")!.molarMass).toBeCloseTo(807.34, 1); // tripalmitin
  });

  it("is one species whichever outer chain comes first", () => {
    expect(parseTriacylglycerol("SOP")!.name).toBe("POS");
    expect(parseTriacylglycerol("OOS")!.name).toBe("SOO");
    expect(parseTriacylglycerol("OLP")!.name).toBe("PLO");
    // alpha- and gamma-linolenic: equal in carbons and double bonds
    expect(parseTriacylglycerol("LnOLg")!.name).toBe(parseTriacylglycerol("LgOLn")!.name);
  });

  it("is another species with another middle chain", () => {
    expect(parseTriacylglycerol("SSO")!.name).not.toBe(parseTriacylglycerol("SOS")!.name);
  });

  it("reads two-letter acids", () => {
    const { outer, middle } = parseTriacylglycerol("PLnO")!;
    expect([outer[0].letter, middle.letter, outer[1].letter]).toEqual(["P", "Ln", "O"]);
  });

  it.each(["", "PO", "POPO", "POX", "pop", "PO S", "P-O-S"])("refuses %j as a name", (name) => {
    expect(parseTriacylglycerol(name)).toBeUndefined();
  });

  it("is built from three acids as from its name", () => {
    const [stearic, oleic, palmitic] = ["S", "O", "P"].map((each) => fattyAcidByLetter(each)!);
    expect(triacylglycerol(stearic!, oleic!, palmitic!)).toEqual(parseTriacylglycerol("POS"));
  });
});

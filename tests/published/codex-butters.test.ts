/**
 * Cocoa and shea butter against their Codex standards and the handbooks that stand in for what those do not say.
 *
 * Codex CXS 86-1981 (cocoa butter, read in a copy) limits unsaponifiables and free acids and gives neither iodine nor
 * saponification value; those are from a trade specification, with which the CRC Handbook (36.5 and 193.8) and the
 * Merck Index (35 to 43, 188 to 195) agree as quoted in a museum's materials encyclopaedia. Codex CXS 325R-2017
 * (unrefined shea butter, Tables 1 and 2, read in a copy).
 */
import { afterAll, describe, expect, it } from "vitest";
import { valuesOf } from "#core/judge/characteristic-values.ts";
import { fatDensityGPerMl } from "#core/judge/density.ts";
import { meltOf } from "#core/judge/melt.ts";
import { slipMeltingC } from "#core/judge/softening.ts";
import { recordOf } from "#data/library.ts";
import { inLibrary, libraryBlend } from "../helpers/library-blend.ts";

const cocoa = valuesOf(inLibrary("cocoa-butter"))!;
const shea = valuesOf(inLibrary("shea-butter"))!;
const slipOf = (id: string) => slipMeltingC(meltOf(libraryBlend({ [id]: 100 }))!)!;

/** Share of unsaponifiables the model reckons with [% by mass] */
function unsaponifiable(id: string): number {
  return recordOf(id)!.composition.unsaponifiable?.value ?? 0;
}

afterAll(() => {
  const row = ({ iodineValue, saponificationValue }: typeof cocoa, id: string) => ({
    iodine: Number(iodineValue.toFixed(1)),
    saponification: Number(saponificationValue.toFixed(1)),
    "slip °C": Number(slipOf(id).toFixed(1)),
  });
  console.table({ cocoa: row(cocoa, "cocoa-butter"), shea: row(shea, "shea-butter") });
});

describe("cocoa butter", () => {
  it("holds at most the 0.7 % of unsaponifiables of CXS 86", () => {
    expect(unsaponifiable("cocoa-butter")).toBeLessThanOrEqual(0.7);
  });

  it("has an iodine value of 33 to 42, within 3 of the CRC's 36.5", () => {
    expect(cocoa.iodineValue).toBeGreaterThanOrEqual(33);
    expect(cocoa.iodineValue).toBeLessThanOrEqual(42);
    expect(Math.abs(cocoa.iodineValue - 36.5)).toBeLessThan(3);
  });

  it("has a saponification value of 188 to 198, within 2 of the CRC's 193.8", () => {
    expect(cocoa.saponificationValue).toBeGreaterThanOrEqual(188);
    expect(cocoa.saponificationValue).toBeLessThanOrEqual(198);
    expect(Math.abs(cocoa.saponificationValue - 193.8)).toBeLessThan(2);
  });
});

describe("shea butter and CXS 325R-2017", () => {
  it("has an iodine value of 30 to 75", () => {
    expect(shea.iodineValue).toBeGreaterThanOrEqual(30);
    expect(shea.iodineValue).toBeLessThanOrEqual(75);
  });

  it("has a saponification value of 160 to 195", () => {
    expect(shea.saponificationValue).toBeGreaterThanOrEqual(160);
    expect(shea.saponificationValue).toBeLessThanOrEqual(195);
  });

  it("is reckoned with 1 to 19 % of unsaponifiables", () => {
    expect(unsaponifiable("shea-butter")).toBeGreaterThanOrEqual(1);
    expect(unsaponifiable("shea-butter")).toBeLessThanOrEqual(19);
  });

  it("melts at 35 to 40 °C, to 2 °C: our slip point is an estimate at 4 % solids", () => {
    expect(slipOf("shea-butter")).toBeGreaterThan(33);
    expect(slipOf("shea-butter")).toBeLessThan(42);
  });

  it("weighs 0.89 to 0.93 g/ml at 40 °C", () => {
    const density = fatDensityGPerMl(40, shea, 0)!;
    expect(density).toBeGreaterThanOrEqual(0.89);
    expect(density).toBeLessThanOrEqual(0.93);
  });
});

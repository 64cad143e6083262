import { describe, expect, it } from "vitest";
import { splitLoads } from "#core/make/loads.ts";

const SHEA = { ingredientId: "shea-butter", targetMg: 1_000_000 };
const OIL = { ingredientId: "jojoba-oil", targetMg: 500_010 };

describe("a bulk and a vessel", () => {
  it("stays one load when the vessel takes it to the last step", () => {
    const made = splitLoads([SHEA, OIL], 1_500_010, 10);
    expect(made).toEqual({ loads: [{ bulkMg: 1_500_010, targetsMg: [1_000_000, 500_010] }] });
  });

  it("becomes two loads when it is one step too much, with the odd step in one of them", () => {
    const made = splitLoads([SHEA, OIL], 1_500_009, 10);
    expect(made).toEqual({
      loads: [
        { bulkMg: 750_010, targetsMg: [500_000, 250_010] },
        { bulkMg: 750_000, targetsMg: [500_000, 250_000] },
      ],
    });
  });

  it("names what would be too light to weigh once it is split", () => {
    const made = splitLoads(
      [SHEA, { ingredientId: "tocopherol", targetMg: 15_000 }],
      600_000,
      1000,
    );
    expect(made).toMatchObject({
      findings: [
        { code: "make.scale.below-resolution", subject: "tocopherol", measured: "7", limit: "1" },
      ],
    });
  });

  it.each([0, -5, 9, 1000.5, Number.NaN])("is refused for a vessel of %d mg", (vesselMg) => {
    const made = splitLoads([SHEA], vesselMg, 10);
    expect(made).toMatchObject({ findings: [{ code: "make.batch.impossible" }] });
  });
});

/** A lot for the tests of prices: a kilogram of an ingredient of the demo shop, received after all others. */
import type { lots } from "#data/schema.ts";

export function aLotOf(
  ingredientId: string,
  costMinor: number | null,
  change: Partial<typeof lots.$inferInsert> = {},
): typeof lots.$inferInsert {
  const id = crypto.randomUUID();
  return {
    ...{ id, shopId: "quillfen", ingredientId, code: id, supplier: "Invented supplier" },
    ...{ receivedOn: "2099-01-01", bestBefore: null, certificate: null, note: "" },
    ...{ receivedMg: 1_000_000, onHandMg: 1_000_000, costMinor },
    ...change,
  };
}

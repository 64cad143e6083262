/**
 * What the orders of the made-up shop are made of: blends, frozen quotes and sheets as the service writes them, with
 * words in them where number, references and lots go.
 */
import type SQLite from "better-sqlite3";
import { ingredientById } from "#data/library.ts";
import { writeRun } from "#service/batches/run.ts";
import { ShopParticularsShape } from "#service/shapes.ts";

const SHOP = "quillfen";
/** What the orders are made of; each has lots of its own, used up one after the other. */
export const STAPLES = ["shea-butter", "cocoa-butter", "jojoba-oil", "sunflower-oil", "tocopherol"];
export const LOTS_PER_STAPLE = 200;
export const ORDERS_PER_RUN = 12;
/** So many blends, each in every quantity; after so many orders all is the same again. */
const BLENDS = 40;
export const SHEETS = BLENDS * ORDERS_PER_RUN;

const quantityOf = (at: number) => 1 + (at % 3);

/** Soft shea as the demo sells it, its shares a little moved so that some blends are alike and most are not. */
function partsOf(at: number) {
  const moved = (Math.floor(at / ORDERS_PER_RUN) % BLENDS) * 10;
  const shares = [6000 - moved, 1000, 1500 + moved, 1450, 50];
  return STAPLES.map((ingredient, index) => ({ ingredient, share: shares[index]! }));
}

/** The frozen quote of an order, called QUOTE, issued in the second 1111111111. */
export function aSnapshot(at: number) {
  const parts = partsOf(at);
  const [glide, care] = parts.slice(2, 4);
  return {
    id: "QUOTE",
    product: { id: "everyday", name: "Everyday butter", version: 1 },
    base: { id: "soft-shea", name: "Soft shea" },
    choice: {
      base: "soft-shea",
      butters: parts.slice(0, 2),
      oils: [
        { place: "glide", ...glide },
        { place: "care", ...care },
      ],
    },
    parts: parts.map((part) => ({ ...part, name: part.ingredient, inci: "Invented" })),
    jar: { id: "jar-120", name: "Middle jar", fillG: 120 },
    quantity: quantityOf(at),
    currency: { code: "GBP", exponent: 2 },
    ...{ jarMinor: 1490, per100gMinor: 1242, totalMinor: 1490, taxMinor: 248 },
    ...{ firmness: "soft", softensAboveCelsius: 31.5 },
    ...{ issuedAt: 1_111_111_111, expiresAt: 2_222_222_222 },
  };
}

/**
 * The sheet of the run that begins with an order, and how it was closed; NUMBER, REFERENCE00 and so on, and LOT-TURN
 * stand where the batch's own go.
 * @param db holds the shop, for its scale and vessel
 */
export function aSheet(db: SQLite.Database, first: number) {
  const { particulars } = db.prepare("select particulars from shops").get() as {
    particulars: string;
  };
  const bench = {
    ...{ shopId: SHOP, owner: {} as never, now: 0, today: "2026-01-05" },
    particulars: ShopParticularsShape.parse(JSON.parse(particulars)),
  };
  const orders = Array.from({ length: ORDERS_PER_RUN }, (_, nth) => ({
    ...{ reference: `REFERENCE${String(nth).padStart(2, "0")}` },
    ...{ jarName: "Middle jar", fillG: 120, quantity: quantityOf(first + nth) },
  }));
  const parts = partsOf(first).map(({ ingredient, share }) => ({
    ...{ ingredient: ingredientById(ingredient)!, share },
  }));
  const run = writeRun(bench, {
    ...{ batchNumber: "NUMBER", productName: "Everyday butter", baseName: "Soft shea" },
    ...{ blend: { parts }, orders, lossShare: 300 },
    ...{ airFraction: 0.35, useCelsius: 21, law: undefined },
  });
  const lines = run.workOrder.weighList
    .flatMap((list) => list.lines)
    .map(({ ingredient, name, targetMg }) => ({ ingredient, name, targetMg }))
    .sort((a, b) => STAPLES.indexOf(a.ingredient) - STAPLES.indexOf(b.ingredient));
  const jarsFilled = orders.reduce((sum, { quantity }) => sum + quantity, 0);
  const closed = {
    lines: lines.map((line, index) => {
      const lot = `staple-${index}-LOT-TURN`;
      const portions = [{ lotId: lot, code: lot, usedMg: line.targetMg }];
      return { ...line, portions, why: "" };
    }),
    ...{ jarsFilled, leftMg: 2000, texture: "soft", celsius: 21, cup: null },
  };
  return { run: JSON.stringify(run), closed: JSON.stringify(closed), lines };
}

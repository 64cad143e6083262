/**
 * Tracing both ways: from a lot to everybody who has a jar of it, and from a jar to every lot in it.
 */
import type { IngredientOf } from "../actions/pantry.ts";
import { readClosing } from "../batches/closing-shape.ts";
import type { LotTrace } from "../batches/recall.ts";
import type { ShopRow } from "../storage/shops.ts";
import type { BackwardRow } from "../storage/trace.ts";
import { countWords } from "../words/count-words.ts";
import { gramsIn } from "./maker-pages.ts";

/** Rows shown on the page; the printed list and the file hold them all. */
const ROWS_SHOWN = 200;

interface TraceAsked {
  /** As typed: a supplier's lot code. */
  readonly lot: string;
  /** As typed: from a jar. */
  readonly jar: string;
}

const NOTHING = { lots: false, jarFound: false, unknown: "", whole: false } as const;

/** The page before anything is asked, or when what was asked is not known. */
export function tracePage(asked: TraceAsked, unknown = "") {
  return { title: "Trace", ...typedOf(asked), ...NOTHING, unknown };
}

/** @param whole every row, to be printed as a recall list */
export function lotTracePage(
  shop: ShopRow,
  asked: TraceAsked,
  traces: readonly LotTrace[],
  ingredientOf: IngredientOf,
  whole: boolean,
) {
  const grams = gramsIn(shop);
  return {
    ...tracePage(asked),
    title: whole ? "Recall list" : "Trace",
    whole,
    lots: traces.map((lot) => ({
      ...lot,
      name: ingredientOf(lot.ingredientId)?.name ?? lot.ingredientId,
      sums: `${countWords(lot.batches, "batch", "batches")}, ${countWords(lot.orders, "order")}, ${countWords(lot.jars, "jar")}`,
      unused: lot.rows.length === 0,
      rows: (whole ? lot.rows : lot.rows.slice(0, ROWS_SHOWN)).map((row) => ({
        ...row,
        used: grams(row.usedMg),
      })),
      more: whole || lot.rows.length <= ROWS_SHOWN ? 0 : lot.rows.length - ROWS_SHOWN,
    })),
  };
}

export function jarTracePage(
  shop: ShopRow,
  asked: TraceAsked,
  rows: readonly BackwardRow[],
  ingredientOf: IngredientOf,
) {
  const grams = gramsIn(shop);
  const first = rows[0]!;
  const nameOf = (id: string) => ingredientOf(id)?.name ?? id;
  const closing = first.state === "made" ? readClosing(first.closing) : undefined;
  const ownRun = first.reference === null ? undefined : (first.ownRun ?? 0);
  const unknown = (closing?.runs ?? []).flatMap(({ lines }, run) =>
    ownRun !== undefined && run !== ownRun
      ? []
      : lines
          .filter(({ portions }) => portions.some(({ lotId }) => lotId === null))
          .map(({ name, why }) => ({ run: run + 1, name, why })),
  );
  return {
    ...tracePage(asked),
    jarFound: {
      batchNumber: first.batchNumber,
      reference: first.reference,
      open: !closing,
      unknown,
      rows: rows.flatMap((row) =>
        row.lotId === null
          ? []
          : [
              {
                run: (row.run ?? 0) + 1,
                name: nameOf(row.ingredientId!),
                lotId: row.lotId,
                code: row.lotCode,
                supplier: row.supplier,
                bestBefore: row.bestBefore ?? "not told",
                used: grams(row.usedMg!),
                blocked: row.blockedBecause,
              },
            ],
      ),
    },
  };
}

function typedOf({ lot, jar }: TraceAsked) {
  return { askedLot: lot, askedJar: jar };
}

/**
 * Net contents of a batch: what was found of the jars weighed so far, and the form for their weights.
 */
import type { NetContentRule } from "#core/make/net-content.ts";
import type { JarFields, JarKind } from "../batches/net-content.ts";
import type { Corrected } from "../batches/record-sheet.ts";
import type { BatchRow } from "../storage/batches.ts";
import type { ShopRow } from "../storage/shops.ts";
import { netContentWords } from "./maker-batch-record-entry.ts";
import { momentIn } from "./maker-pages.ts";

export interface NetContentShown {
  readonly batch: BatchRow;
  readonly kinds: readonly JarKind[];
  readonly checks: readonly Corrected<"net-content">[];
  readonly rule: NetContentRule | undefined;
  readonly fields: readonly JarFields[];
  readonly faults: readonly string[];
}

export function netContentPage(shop: ShopRow, shown: NetContentShown) {
  const { batch, kinds, checks, rule, fields, faults } = shown;
  const when = momentIn(shop);
  const several = new Set(kinds.map(({ run }) => run)).size > 1;
  return {
    title: `Net contents of batch ${batch.number}`,
    number: batch.number,
    faults,
    checks: [...checks].reverse().map((check) => ({
      ...{ when: when(check.at), by: check.by, place: check.sequence },
      ...netContentWords(check.body),
      corrected: check.corrections.length > 0,
    })),
    eu: rule === "eu",
    us: rule === "us",
    kinds: kinds.map(({ run, product, base, jarName, labelMg }, k) => ({
      k,
      title: `${jarName} ${labelMg / 1000}\u00a0g`,
      of: `${several ? `Run ${run + 1}: ` : ""}${product}, ${base}`,
      ...fields[k]!,
    })),
  };
}

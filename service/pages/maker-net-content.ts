/**
 * Net contents of a batch: what was found of the jars weighed so far, and the form for their weights.
 */
import type { NetContentRule } from "#core/make/net-content.ts";
import type { JarFields, WeighedJar } from "../batches/net-content.ts";
import type { Corrected } from "../batches/record-sheet.ts";
import { tongueOf } from "../documents/tongue.ts";
import type { BatchRow } from "../storage/batches.ts";
import type { ShopRow } from "../storage/shops.ts";
import { netContentWords } from "./maker-batch-record-entry.ts";
import { momentIn } from "./maker-pages.ts";
import { languagesOf } from "./paper-links.ts";

export interface NetContentShown {
  readonly batch: BatchRow;
  readonly kinds: readonly WeighedJar[];
  readonly checks: readonly Corrected<"net-content">[];
  readonly rule: NetContentRule | undefined;
  readonly fields: readonly JarFields[];
  readonly faults: readonly string[];
}

/** @param shop as its bench reads it */
export function netContentPage(shop: ShopRow, shown: NetContentShown) {
  const { batch, kinds, checks, rule, fields, faults } = shown;
  const tongue = tongueOf(shop.locale);
  const { say, locale } = tongue;
  const when = momentIn(shop);
  const several = new Set(kinds.map(({ run }) => run)).size > 1;
  return {
    locale,
    title: say("contents.title", { number: batch.number }),
    number: batch.number,
    languages: languagesOf(`/maker/batches/${batch.number}/contents`, locale),
    faults,
    checks: [...checks].reverse().map((check) => ({
      ...{ when: when(check.at), by: check.by, place: check.sequence },
      ...netContentWords(check.body, tongue),
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

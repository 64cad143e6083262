/**
 * Words that the maker's pages about orders and batches share.
 */
import { gramsOnScale } from "#core/make/scale.ts";
import type { QuoteSnapshot } from "#core/wire.ts";
import { momentFormat } from "../documents/formats.ts";
import { helpers } from "../documents/helpers.ts";
import { particularsOf } from "../particulars.ts";
import type { OrderRow } from "../storage/orders.ts";
import type { ShopRow } from "../storage/shops.ts";

const NO_BREAK = "\u00a0";

/** Seconds since 1970 as day and time at the bench. */
export function momentIn(shop: ShopRow): (seconds: number) => string {
  const { timeZone } = particularsOf(shop);
  const format = momentFormat(shop.locale, {
    dateStyle: "medium",
    timeStyle: "short",
    timeZone,
  });
  return (seconds) => format.format(seconds * 1000);
}

/** Milligrams as the shop's scale shows them, with their unit. */
export function gramsIn(shop: ShopRow): (mg: number) => string {
  const { scaleStepMg } = particularsOf(shop);
  return (mg) => `${gramsOnScale(mg, scaleStepMg)}${NO_BREAK}g`;
}

export function titleOf({ product, base }: QuoteSnapshot): string {
  return `${product.name}, from ${base.name}`;
}

export function blendWords({ parts }: QuoteSnapshot): string {
  return parts.map(({ name, share }) => `${helpers.percent(share)} ${name}`).join(", ");
}

export function jarsOf({ quantity, jar }: QuoteSnapshot): string {
  return `${quantity} × ${jar.name} ${jar.fillG}${NO_BREAK}g`;
}

export function stateWords(state: OrderRow["state"]): string {
  return state.replace("-", " ");
}

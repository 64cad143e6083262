/**
 * The code of a blend, to share it or to order it again: sealed by the shop, kept nowhere, and judged like any other
 * choice when it is opened.
 *
 * A spoken order reference has 30 bits, few enough to be guessed, so it opens no blend. A code shows the blend to
 * whoever holds it, and nothing else: no name, no order.
 */
import { composeBlend } from "#core/compose/compose.ts";
import { finding } from "#core/finding.ts";
import type { BlendLinkAnswer, BlendOpened, QuoteSnapshot } from "#core/wire.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { type Chosen, FORM, readChoice, readHeading, writeChoice } from "./blend-bytes.ts";
import { type Offer, type Offers, productOfVersion } from "./offer.ts";

/**
 * The code of a choice of what is for sale.
 * @throws Refusal compose.choice.refused when it keeps no bounds; whether it can be ordered is not asked
 */
export async function blendCode(
  shop: Shop,
  { wire: { product, version }, ground }: Pick<Offer, "wire" | "ground">,
  chosen: Chosen,
): Promise<BlendLinkAnswer> {
  const composed = composeBlend(product, chosen.choice, ground.ingredientOf);
  const isJar = product.jars.some(({ id }) => id === chosen.jar);
  const findings = [
    ...("findings" in composed ? composed.findings : []),
    ...(isJar ? [] : [finding("compose.jar.unknown", chosen.jar)]),
  ];
  if (findings.length > 0) {
    const detail = "The choice does not fit this product, so it has no code; nothing was stored.";
    throw new Refusal("compose.choice.refused", detail, { findings });
  }
  return { code: await shop.seals.sealBlend(writeChoice(product, version, chosen)) };
}

/** The code of what an order was made from; nothing when its version is no longer known. */
export async function blendCodeOfQuote(
  shop: Shop,
  { product: { id, version }, choice, jar }: QuoteSnapshot,
): Promise<string | undefined> {
  const product = await productOfVersion(shop, id, version);
  return product && shop.seals.sealBlend(writeChoice(product, version, { choice, jar: jar.id }));
}

export interface Again {
  readonly code: string;
  /** Path of the shop's page with the blend on it; null when the product is not for sale at the moment. */
  readonly path: string | null;
}

/** How what an order was made from can be ordered again. */
export async function orderAgain(shop: Shop, quote: QuoteSnapshot): Promise<Again | null> {
  const { id } = quote.product;
  const [code, mark] = await Promise.all([blendCodeOfQuote(shop, quote), shop.shops.offerMark(id)]);
  if (code === undefined) return null;
  const isForSale = mark !== undefined && mark.publishedVersion !== null;
  return { code, path: isForSale ? `/shop/${encodeURIComponent(id)}?blend=${code}` : null };
}

/**
 * What a code holds.
 * @throws Refusal compose.code.altered, compose.code.outdated, or compose.product.unknown when it is not for sale
 */
export async function openBlendCode(
  shop: Shop,
  offers: Offers,
  code: string,
): Promise<BlendOpened> {
  const bytes = await shop.seals.openBlend(code);
  const heading = bytes && readHeading(bytes);
  if (!heading) throw altered();
  if (heading.form !== FORM) {
    const detail =
      "This code is of another form than today’s and can no longer be read. Nothing is lost: start from one of the bases.";
    throw new Refusal("compose.code.outdated", detail);
  }
  const { version, rest } = heading;
  const [{ wire }, product] = await Promise.all([
    offers.of(heading.product),
    productOfVersion(shop, heading.product, version),
  ]);
  const chosen = product && readChoice(product, rest);
  if (!chosen) throw altered();
  return { product: { id: product.id, name: wire.product.name }, version, ...chosen };
}

function altered(): Refusal {
  const detail =
    "This code was not made here, or a character of it is missing or wrong. Please copy it again as a whole.";
  return new Refusal("compose.code.altered", detail);
}

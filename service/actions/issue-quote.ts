/**
 * A quote: an orderable blend at a frozen price, signed, stored, and good for an hour.
 */
import type { Blend } from "#core/blend.ts";
import { finding } from "#core/finding.ts";
import { type JarLine, scaleBatch } from "#core/make/scale.ts";
import { AMOUNT_GREATEST_MINOR } from "#core/price/money.ts";
import { explainPrice } from "#core/price/breakdown.ts";
import { priceJar, pricePer100g } from "#core/price/price.ts";
import { taxInsideMinor, taxOnTopMinor } from "#core/price/tax.ts";
import type { QuoteAnswer, QuoteRequest, QuoteSnapshot } from "#core/wire.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { choiceRefused } from "./choice-refused.ts";
import { judgeOrderable } from "./judge-choice.ts";
import type { Offer, Offers } from "./offer.ts";

/** How long a quote stands [s] */
export const QUOTE_LIFE_S = 3600;

/**
 * Judge, price, freeze, store and sign.
 * @throws Refusal when the choice, the blend, the jar or the quantity does not pass
 */
export async function issueQuote(
  shop: Shop,
  offers: Offers,
  request: QuoteRequest,
): Promise<QuoteAnswer> {
  const offer = await offers.of(request.product, "recent", request.zone);
  const { quote, blend } = freeze(shop, offer, request);
  const lines = explainPrice(quote.jarMinor, blend, offer.policy, quote.jar, offer.costs);
  const [token] = await Promise.all([
    shop.seals.sealQuote(quote),
    shop.orders.insertQuote({
      id: quote.id,
      shopId: offer.owner.id,
      productId: quote.product.id,
      version: quote.product.version,
      snapshot: JSON.stringify(quote),
      priceLines: JSON.stringify(lines),
      issuedAt: quote.issuedAt,
      expiresAt: quote.expiresAt,
    }),
  ]);
  return { quote, token };
}

function freeze(
  shop: Shop,
  offer: Offer,
  request: QuoteRequest,
): { readonly quote: QuoteSnapshot; readonly blend: Blend } {
  const { product, version, currency, tariffs, parcel, taxOnTop, withdrawal } = offer.wire;
  const { blend, judgement } = judgeOrderable(product, request.choice, offer.ground);
  const base = product.bases.find(({ id }) => id === request.choice.base)!;
  const jar = product.jars.find(({ id }) => id === request.jar);
  if (!jar) throw choiceRefused([finding("compose.jar.unknown", request.jar)]);
  const { quantity } = request;
  if (!Number.isInteger(quantity) || quantity < 1 || quantity > product.quantityMost) {
    const figures = { measured: quantity, limit: product.quantityMost };
    throw choiceRefused([finding("compose.quantity.out-of-range", jar.id, figures)]);
  }
  checkWeighing(offer, blend, { fillG: jar.fillG, quantity });
  const priced = priceJar(tariffs[jar.id]!, blend);
  if ("findings" in priced) {
    throw new Refusal("price.blend.cannot-price", "This blend cannot be priced.", priced);
  }
  const goodsMinor = priced.jarMinor * quantity;
  const onTopMinor = taxOnTopMinor(goodsMinor, taxOnTop);
  const totalMinor = goodsMinor + onTopMinor;
  if (totalMinor > AMOUNT_GREATEST_MINOR) {
    throw new Refusal("payment.charge.invalid", "That is more than one payment can take.");
  }
  const issuedAt = shop.clock.seconds();
  const quote: QuoteSnapshot = {
    id: shop.numbers.id(),
    product: { id: product.id, name: product.name, version },
    base: { id: base.id, name: base.name },
    choice: request.choice,
    parts: blend.parts.map(({ ingredient: { id, name, inci }, share }) => ({
      ingredient: id,
      name,
      inci,
      share,
    })),
    jar,
    quantity,
    currency,
    jarMinor: priced.jarMinor,
    per100gMinor: pricePer100g(priced.jarMinor, jar.fillG),
    totalMinor,
    ...(taxOnTop
      ? { taxMinor: onTopMinor, taxOnTop: true as const }
      : { taxMinor: taxInsideMinor(totalMinor, offer.policy) }),
    firmness: judgement.firmness?.settled ?? "",
    softensAboveCelsius: judgement.softensAboveCelsius ?? null,
    ...(parcel ? { parcel } : {}),
    ...(withdrawal ? { withdrawal } : {}),
    ...(offer.carriage ? { carriage: offer.carriage } : {}),
    issuedAt,
    expiresAt: issuedAt + QUOTE_LIFE_S,
  };
  return { quote, blend };
}

/** What cannot be weighed on the maker's scale must not be sold, even if it could be made with other orders. */
function checkWeighing(offer: Offer, blend: Blend, line: JarLine): void {
  const { scaleStepMg, policy } = offer;
  const scaled = scaleBatch(blend, { jars: [line], lossShare: policy.lossShare, scaleStepMg });
  if ("findings" in scaled) {
    throw new Refusal("make.batch.refused", "So small an order cannot be weighed exactly.", scaled);
  }
}

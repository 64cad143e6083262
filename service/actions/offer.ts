/**
 * What is for sale: a published product with everything a page or a judgement needs, built once per version, cost and
 * firmness law.
 */
import { type Product, ingredientsOf } from "#core/compose/product.ts";
import type { Finding } from "#core/finding.ts";
import type { PackCost, PricePolicy } from "#core/price/policy.ts";
import { type Tariff, makeTariff } from "#core/price/tariff.ts";
import type { ProductOffer } from "#core/wire.ts";
import type { Shop } from "../ports.ts";
import type { OfferMark } from "../storage/shops.ts";
import { Refusal } from "../problem.ts";
import type { Ground } from "./judge-choice.ts";
import { pantryOf } from "./pantry.ts";
import { PricePolicyShape, ProductShape, ShopParticularsShape } from "../shapes.ts";

export interface Offer {
  readonly shopId: string;
  readonly wire: ProductOffer;
  /** What stays with the maker. */
  readonly policy: PricePolicy;
  readonly costs: Readonly<Record<string, PackCost>>;
  readonly ground: Ground;
  /** Steps of the maker's scale [mg] */
  readonly scaleStepMg: number;
}

/** Offers kept ready; more products than this and the oldest is built again when asked for. */
const OFFERS_MOST = 200;

export type Offers = ReturnType<typeof offersOf>;

/** Offers of a shop, kept until their product, a cost or the law changes. */
export function offersOf(shop: Shop) {
  const kept = new Map<string, Offer>();
  const marks = new Map<string, { readonly at: number; readonly mark: OfferMark | undefined }>();

  /** What is for sale now, asked of the database once a second and product at most. */
  async function recentMark(productId: string): Promise<OfferMark | undefined> {
    const at = shop.clock.seconds();
    const known = marks.get(productId);
    if (known?.at === at) return known.mark;
    const mark = await shop.shops.offerMark(productId);
    if (marks.size >= OFFERS_MOST) marks.clear();
    marks.set(productId, { at, mark });
    return mark;
  }

  return {
    /**
     * The offer of a product.
     * @param freshness "recent" may be a second old, which is fine for looking; an order asks for "now"
     * @throws Refusal compose.product.unknown when there is none for sale by that name
     */
    async of(productId: string, freshness: "recent" | "now" = "recent"): Promise<Offer> {
      const mark =
        freshness === "now" ? await shop.shops.offerMark(productId) : await recentMark(productId);
      if (!mark || mark.publishedVersion === null) {
        const detail = `There is no product called “${productId}” for sale here.`;
        throw new Refusal("compose.product.unknown", detail);
      }
      const key = `${productId} ${mark.publishedVersion} ${mark.costsRevision} ${mark.lawRevision}`;
      let offer = kept.get(key);
      if (!offer) {
        offer = await buildOffer(shop, mark.shopId, productId, mark.publishedVersion);
        if (kept.size >= OFFERS_MOST) kept.delete(kept.keys().next().value!);
        kept.set(key, offer);
      }
      return offer;
    },
  };
}

/** The product of a version, for judging an order by the rules it was quoted under. */
export async function productOfVersion(
  shop: Shop,
  productId: string,
  version: number,
): Promise<Product | undefined> {
  const row = await shop.shops.version(productId, version);
  return row && ProductShape.parse(JSON.parse(row.product));
}

async function buildOffer(
  shop: Shop,
  shopId: string,
  productId: string,
  version: number,
): Promise<Offer> {
  const [row, owner, pantry, { law }] = await Promise.all([
    shop.shops.version(productId, version),
    shop.shops.byId(shopId),
    pantryOf(shop, shopId),
    shop.kitchenLaws.inForce(shopId),
  ]);
  if (!row || !owner) throw new Error(`version ${version} of ${productId} is not in the database`);
  const product = ProductShape.parse(JSON.parse(row.product));
  const policy = PricePolicyShape.parse(JSON.parse(row.pricePolicy));
  const { ingredientOf, costs } = pantry;
  const ids = ingredientsOf(product);
  const wire: ProductOffer = {
    product,
    version,
    ingredients: ids.map((id) => {
      const ingredient = ingredientOf(id);
      if (!ingredient) throw new Error(`${productId} uses ${id}, which nobody knows`);
      return ingredient;
    }),
    tariffs: Object.fromEntries(
      product.jars.map((jar) => [jar.id, tariffOf(makeTariff(policy, jar, costs, ids))]),
    ),
    currency: { code: owner.currency, exponent: owner.currencyExponent },
    locale: owner.locale,
    practice: shop.till.kind === "practice",
    ...(law ? { law } : {}),
  };
  const { scaleStepMg } = ShopParticularsShape.parse(JSON.parse(owner.particulars));
  return {
    shopId,
    wire,
    policy,
    costs,
    ground: { ingredientOf, law: law ?? undefined },
    scaleStepMg,
  };
}

function tariffOf(made: ReturnType<typeof makeTariff>): Tariff {
  if ("tariff" in made) return made.tariff;
  const findings: readonly Finding[] = made.findings;
  throw new Refusal("price.blend.cannot-price", "This product cannot be priced at the moment.", {
    findings,
  });
}

/**
 * What is for sale: a published product with everything a page or a judgement needs, built once per version, cost,
 * firmness law and season.
 */
import { type Product, ingredientsOf } from "#core/compose/product.ts";
import type { Finding } from "#core/finding.ts";
import type { CarriageOffers } from "#core/order/carriage.ts";
import { withdrawalTold } from "#core/order/withdrawal.ts";
import type { PackCost, PricePolicy } from "#core/price/policy.ts";
import { type Tariff, makeTariff } from "#core/price/tariff.ts";
import { taxOnTopOf } from "#core/price/tax.ts";
import type { ParcelSeason, ProductOffer, QuoteSnapshot } from "#core/wire.ts";
import { particularsOf } from "../particulars.ts";
import type { Shop } from "../ports.ts";
import type { OfferMark, ShopRow } from "../storage/shops.ts";
import { Refusal } from "../problem.ts";
import { type Season, seasonAt } from "../products/season.ts";
import { shipDaysOf } from "../products/ship-days.ts";
import type { Ground } from "./judge-choice.ts";
import { type IngredientOf, type Pantry, pantryOf } from "./pantry.ts";
import { materialCosts } from "../prices/material-costs.ts";
import { TILL_CURRENCIES } from "../tills/currency-table.ts";
import { PricePolicyShape, ProductShape, type ShopParticulars } from "../shapes.ts";

export interface Offer {
  /** The shop as it stood; once it says something else of itself, the offer is built anew. */
  readonly owner: ShopRow;
  readonly wire: ProductOffer;
  /** What stays with the maker. */
  readonly policy: PricePolicy;
  readonly costs: Readonly<Record<string, PackCost>>;
  readonly ground: Ground;
  /** Steps of the maker's scale [mg] */
  readonly scaleStepMg: number;
  /** Ways to send an order of it; missing when none are set. */
  readonly carriage?: CarriageOffers;
}

/** Offers kept ready; more products than this and the oldest is built again when asked for. */
const OFFERS_MOST = 200;

/** How old what is for sale may be to those who come while another asks; own choice [s] */
const OLD_MOST_S = 3;

interface SeenMark {
  readonly mark: OfferMark | undefined;
  /** When it was last asked for, and when what is kept was so [s] */
  readonly at: number;
  readonly seenAt: number;
}

export type Offers = ReturnType<typeof offersOf>;

/** Offers of a shop, kept until their product, a cost, the law, the shop's settings or the month changes. */
export function offersOf(shop: Shop) {
  const kept = new Map<string, Offer>();
  const shipDayOf = shipDaysOf(shop);
  const marks = new Map<string, SeenMark>();

  /** What is for sale now, asked of the database once a second and product at most. */
  async function recentMark(productId: string): Promise<OfferMark | undefined> {
    const at = shop.clock.seconds();
    const known = marks.get(productId);
    if (known?.at === at) return known.mark;
    // One asks; who comes meanwhile takes what was so just now, or a crowd would ask all at once.
    const isYoung = known !== undefined && Math.abs(at - known.seenAt) < OLD_MOST_S;
    if (isYoung) marks.set(productId, { ...known, at });
    const mark = await shop.shops.offerMark(productId);
    if (marks.size >= OFFERS_MOST) marks.clear();
    marks.set(productId, { at, seenAt: at, mark });
    return mark;
  }

  return {
    /**
     * The offer of a product.
     * @param freshness "recent" may be some seconds old, which is fine for looking; an order asks for "now"
     * @param zone where the parcel goes; the warmest zone of the shop when not said
     * @throws Refusal compose.product.unknown when there is none for sale by that name; compose.zone.unknown
     */
    async of(
      productId: string,
      freshness: "recent" | "now" = "recent",
      zone?: string,
    ): Promise<Offer> {
      const mark =
        freshness === "now" ? await shop.shops.offerMark(productId) : await recentMark(productId);
      if (!mark || mark.publishedVersion === null) {
        const detail = `There is no product called “${productId}” for sale here.`;
        throw new Refusal("compose.product.unknown", detail);
      }
      const shipDay = await shipDayOf(mark);
      const key = [productId, mark.publishedVersion, mark.costsRevision, mark.lawRevision]
        .concat([mark.shopRevision, shipDay, zone ?? ""])
        .join(" ");
      let offer = kept.get(key);
      if (!offer) {
        offer = await buildOffer(shop, mark, productId, { shipDay, zone });
        if (kept.size >= OFFERS_MOST) kept.delete(kept.keys().next().value!);
        kept.set(key, offer);
      }
      return offer;
    },
  };
}

/** The product of a version, with its own rules. */
export async function productOfVersion(
  shop: Shop,
  productId: string,
  version: number,
): Promise<Product | undefined> {
  const row = await shop.shops.version(productId, version);
  return row && ProductShape.parse(JSON.parse(row.product));
}

/** The product a quote was made from, with the rules of its season, for judging its order by them. */
export async function productOfQuote(
  shop: Shop,
  { product: { id, version }, parcel }: Pick<QuoteSnapshot, "product" | "parcel">,
): Promise<Product | undefined> {
  const product = await productOfVersion(shop, id, version);
  if (!product || !parcel) return product;
  return { ...product, rules: { ...product.rules, softensAboveLeastCelsius: parcel.leastCelsius } };
}

interface Shipment {
  readonly shipDay: string;
  readonly zone: string | undefined;
}

async function buildOffer(
  shop: Shop,
  { shopId, publishedVersion }: OfferMark,
  productId: string,
  { shipDay, zone }: Shipment,
): Promise<Offer> {
  const version = publishedVersion!;
  const [row, owner, pantry, { law }] = await Promise.all([
    shop.shops.version(productId, version),
    shop.shops.byId(shopId),
    pantryOf(shop, shopId),
    shop.kitchenLaws.inForce(shopId),
  ]);
  if (!row || !owner) throw new Error(`version ${version} of ${productId} is not in the database`);
  const { label: _, ...published } = ProductShape.parse(JSON.parse(row.product));
  const particulars = particularsOf(owner);
  const season = seasonAt(published, particulars, shipDay, zone);
  const product: Product = { ...published, rules: season.rules };
  const policy = PricePolicyShape.parse(JSON.parse(row.pricePolicy));
  const ingredientOf = asThereIs(pantry);
  const ids = ingredientsOf(product);
  const costs = await materialCosts(shop, shopId, policy, pantry.costs, ids);
  const stepMinor = TILL_CURRENCIES.get(owner.currency)?.stepMinor ?? 1;
  const taxOnTop = taxOnTopOf(policy, stepMinor);
  const withdrawal = withdrawalTold(particulars.withdrawal, particulars.country);
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
    ...(taxOnTop ? { taxOnTop } : {}),
    ...(law ? { law } : {}),
    ...parcelOf(season, shipDay),
    ...(withdrawal ? { withdrawal } : {}),
  };
  return {
    owner,
    wire,
    policy,
    costs,
    ground: { ingredientOf, law: law ?? undefined },
    scaleStepMg: particulars.scaleStepMg,
    ...carriageOf(particulars, wire.parcel),
  };
}

/** The maker's ingredients with what ran out marked; of one id always one object, by which its species are kept. */
function asThereIs({ rows, ingredientOf }: Pantry): IngredientOf {
  const gone = new Map(
    rows.flatMap(({ id, ranOutAt }) => {
      const ingredient = ranOutAt === null ? undefined : ingredientOf(id);
      return ingredient ? [[id, { ...ingredient, ranOut: true as const }]] : [];
    }),
  );
  return (id) => gone.get(id) ?? ingredientOf(id);
}

function parcelOf({ parcel, rules }: Season, shipDay: string): { readonly parcel?: ParcelSeason } {
  if (!parcel) return {};
  const { zone, celsius } = parcel;
  const leastCelsius = rules.softensAboveLeastCelsius!;
  return { parcel: { zone: { id: zone.id, name: zone.name }, shipDay, celsius, leastCelsius } };
}

/** Ways that go to the parcel's zone. */
function carriageOf(
  { carriage = [], deliverTo, country }: ShopParticulars,
  parcel: ParcelSeason | undefined,
): { readonly carriage?: CarriageOffers } {
  const ways = carriage
    .filter(({ zones }) => !zones || !parcel || zones.includes(parcel.zone.id))
    .map(({ name, minor, days }) => ({ name, minor, ...(days ? { days } : {}) }));
  return ways.length > 0 ? { carriage: { ways, countries: deliverTo ?? [country] } } : {};
}

function tariffOf(made: ReturnType<typeof makeTariff>): Tariff {
  if ("tariff" in made) return made.tariff;
  const findings: readonly Finding[] = made.findings;
  throw new Refusal("price.blend.cannot-price", "This product cannot be priced at the moment.", {
    findings,
  });
}

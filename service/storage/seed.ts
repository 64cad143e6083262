/**
 * Puts the demo shop into an empty database; a database with a shop in it is left alone.
 */
import type { Product } from "#core/compose/product.ts";
import type { PricePolicy } from "#core/price/policy.ts";
import { ingredientById } from "#data/library.ts";
import {
  ingredients,
  lots,
  productVersions,
  products,
  shops,
  stockMovements,
} from "#data/schema.ts";
import { DEMO_INGREDIENTS, DEMO_LOTS } from "#data/seeds/demo-shelf.ts";
import { DEMO_COSTS, DEMO_PRODUCTS, DEMO_SHOP } from "#data/seeds/demo.ts";
import { pricesAtPublishing } from "../prices/at-publishing.ts";
import { shipDayAt } from "../products/season.ts";
import { type Database, type Statement } from "./database.ts";

/**
 * @param publishedAt when the demo products count as published [s since 1970]
 * @returns whether anything was written
 */
export async function seedDemo({ q, atomic }: Database, publishedAt: number): Promise<boolean> {
  const [standing] = await q.select({ id: shops.id }).from(shops).limit(1);
  if (standing) return false;
  const shopId = DEMO_SHOP.id;
  const particulars = JSON.stringify(DEMO_SHOP.particulars);
  const statements: Statement[] = [q.insert(shops).values({ ...DEMO_SHOP, particulars })];
  for (const { product, pricePolicy } of DEMO_PRODUCTS) {
    statements.push(
      q
        .insert(products)
        .values({ id: product.id, shopId, name: product.name, publishedVersion: 1 }),
      q.insert(productVersions).values({
        productId: product.id,
        version: 1,
        product: JSON.stringify(product),
        pricePolicy: JSON.stringify(pricePolicy),
        room: JSON.stringify(roomOf(product, pricePolicy, publishedAt)),
        publishedAt,
      }),
    );
  }
  statements.push(...ingredientRows(shopId).map((row) => q.insert(ingredients).values(row)));
  for (const { lot, movements } of lotRows(shopId, publishedAt)) {
    statements.push(q.insert(lots).values(lot));
    statements.push(...movements.map((each) => q.insert(stockMovements).values(each)));
  }
  await atomic(statements);
  return true;
}

/** What publishing would have kept: prices and margins, from which a fall is told. */
function roomOf(product: Product, policy: PricePolicy, publishedAt: number) {
  const shipDay = shipDayAt(DEMO_SHOP.particulars, publishedAt);
  const prices = pricesAtPublishing(product, policy, DEMO_COSTS, ingredientById);
  return { shipDay, sentences: [], prices };
}

function ingredientRows(shopId: string) {
  return DEMO_INGREDIENTS.map(({ id, pack, lowBelowG, ...said }) => ({
    ...{ shopId, id, libraryId: id, name: "", refined: "not-told" as const, scent: "", note: "" },
    ...said,
    ...(pack ?? { packMinor: null, packMg: null }),
    packText: pack ? `${pack.packMg / 1000} g` : "",
    lowBelowMg: lowBelowG === undefined ? null : lowBelowG * 1000,
  }));
}

const S_PER_DAY = 86_400;

/** Lots with days that count from the day of seeding, and the movements that led to what is on hand. */
function lotRows(shopId: string, now: number) {
  const dayFrom = (days: number) =>
    new Date((now + days * S_PER_DAY) * 1000).toISOString().slice(0, 10);
  return DEMO_LOTS.map((said) => {
    const id = `demo-${said.code.toLowerCase()}`;
    const { ingredientId, code, costMinor } = said;
    const [receivedMg, onHandMg] = [said.receivedG * 1000, said.onHandG * 1000];
    const { supplier } = DEMO_INGREDIENTS.find((each) => each.id === ingredientId)!;
    const came = now - said.receivedDaysAgo * S_PER_DAY;
    const received = {
      lotId: id,
      at: came,
      deltaMg: receivedMg,
      why: "received" as const,
      note: "",
    };
    const counted = { at: now, deltaMg: onHandMg - receivedMg, why: "count" as const };
    return {
      lot: {
        ...{ id, shopId, ingredientId, code, supplier, receivedMg, onHandMg, costMinor },
        receivedOn: dayFrom(-said.receivedDaysAgo),
        bestBefore: dayFrom(said.keepsDays),
        certificate: said.certificate ?? null,
        note: said.note ?? "",
      },
      movements: [
        received,
        ...(onHandMg === receivedMg
          ? []
          : [{ ...received, ...counted, note: "counted at the start" }]),
      ],
    };
  });
}

/**
 * What a test does in a shop before it comes to its point, in the way customers and makers do it.
 */
import { eq } from "drizzle-orm";
import type { OrderAnswer, QuoteRequest } from "#core/wire.ts";
import { sessions, shops } from "#data/schema.ts";
import { newSession } from "#service/actions/sign-in.ts";
import type { ShopParticulars } from "#service/shapes.ts";
import type { TestShop } from "./shop.ts";

const SHOP = "quillfen";

export type Fields = readonly (readonly [name: string, value: string])[];

/** Send a form of one of the shop's own pages. @param cookie of who sends it; empty for a customer */
export function sendForm(shop: TestShop, path: string, cookie: string, fields: Fields = []) {
  return shop.request(path, {
    method: "POST",
    headers: { "sec-fetch-site": "same-origin", cookie, accept: "text/html" },
    body: new URLSearchParams(fields.map(([name, value]) => [name, value])),
  });
}

/** An order paid at the practice till by somebody with a name, who is wren@customer.example. */
export async function payOrder(
  shop: TestShop,
  change: Partial<QuoteRequest> = {},
  name = "Wren Ashdown",
) {
  const { token, quote } = await shop.quote(change);
  const order = (await (await shop.post("/v1/orders", { quote: token })).json()) as OrderAnswer;
  const paid = await sendForm(shop, `${new URL(order.payUrl!).pathname}/pay`, "", [
    ["name", name],
    ["email", "wren@customer.example"],
  ]);
  if (paid.status !== 303) throw new Error(`not paid: ${await paid.text()}`);
  const path = new URL(order.orderUrl).pathname;
  return { quote, reference: order.reference, path, id: path.split("/")[2]! };
}

/** Somebody who works at the bench and owns nothing. @returns the cookie they come with */
export async function benchHand(shop: TestShop): Promise<string> {
  const id = crypto.randomUUID();
  await shop.shop.people.add({ id, shopId: SHOP, name: "Hand", role: "bench", createdAt: 1 });
  const session = await newSession(shop.shop, (await shop.shop.people.byId(SHOP, id))!);
  await shop.db.atomic([shop.db.q.insert(sessions).values(session.row)]);
  return `softset=${session.token}`;
}

/** Settings that the shop has beside those it starts with. */
export async function setParticulars(
  shop: Pick<TestShop, "shop" | "db">,
  more: Partial<ShopParticulars>,
): Promise<void> {
  const row = (await shop.shop.shops.byId(SHOP))!;
  const particulars = JSON.stringify({ ...(JSON.parse(row.particulars) as object), ...more });
  await shop.db.atomic([shop.db.q.update(shops).set({ particulars }).where(eq(shops.id, SHOP))]);
}

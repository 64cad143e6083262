/**
 * Orders of host shops, with their key. Pages of other shops never see these answers, and a cache never keeps them.
 */
import { type Context, Hono } from "hono";
import type { Offers } from "../actions/offer.ts";
import { readJson } from "../middleware.ts";
import { cancelHostOrder, hostOrder, listHostOrders, ownHostOrder } from "../plugin/host-order.ts";
import { keyOf } from "../plugin/keys.ts";
import { once } from "../plugin/once.ts";
import { placeHostOrder } from "../plugin/place-host-order.ts";
import { CancelRequestShape, HostListShape, HostOrderRequestShape } from "../plugin/shapes.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { pointersOf } from "../typed/pointers.ts";

const PRIVATE = { "cache-control": "no-store" };

/** POST /v1/orders with a key; without one it is a customer's (`order.ts`). */
export async function answerHostOrder(shop: Shop, offers: Offers, c: Context): Promise<Response> {
  const key = await keyOf(shop, c);
  return await once(shop, c, key.id, async () => {
    const request = await readJson(c, HostOrderRequestShape);
    const { order, repeated } = await placeHostOrder(shop, offers, key, request);
    return { status: repeated ? 200 : 201, body: await hostOrder(shop, order) };
  });
}

export function hostOrderRoutes(shop: Shop) {
  return new Hono()
    .get("/orders", async (c) => {
      const key = await keyOf(shop, c);
      const listed = await listHostOrders(shop, key, readQuery(c));
      if (listed.next !== null) {
        const next = new URL(c.req.url).searchParams;
        next.set("after", listed.next);
        c.header("link", `<${shop.url}/v1/orders?${next.toString()}>; rel="next"`); // RFC 8288
      }
      return c.json(listed, 200, PRIVATE);
    })
    .get("/orders/:reference", async (c) => {
      const key = await keyOf(shop, c);
      const order = await ownHostOrder(shop, key, c.req.param("reference"));
      return c.json(await hostOrder(shop, order), 200, PRIVATE);
    })
    .post("/orders/:reference/cancel", async (c) => {
      const key = await keyOf(shop, c);
      const { why } = await readJson(c, CancelRequestShape);
      const order = await cancelHostOrder(shop, key, c.req.param("reference"), why);
      return c.json(await hostOrder(shop, order), 200, PRIVATE);
    });
}

function readQuery(c: Context) {
  // Given twice, a field would be one or the other by chance; as a list it fits no shape.
  const asked = Object.entries(c.req.queries()).map(([name, values]) => [
    name,
    values.length === 1 ? values[0] : values,
  ]);
  const parsed = HostListShape.safeParse(Object.fromEntries(asked));
  if (parsed.success) return parsed.data;
  throw new Refusal("request.query.invalid", "The query holds something that cannot be used.", {
    errors: pointersOf(parsed.error),
  });
}

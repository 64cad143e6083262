/**
 * The owner's orders: looked through by what is to be done, and searched.
 */
import { Hono } from "hono";
import {
  ORDER_GROUPS,
  type OrderGroup,
  orderGroupPage,
  orderSearchPage,
  ordersPage,
} from "../../pages/maker-orders.ts";
import type { Shop } from "../../ports.ts";
import type { Mark } from "../../storage/order-lists.ts";
import type { SearchMark } from "../../storage/order-search.ts";
import { makerPage } from "./page.ts";
import type { Signed, SignedContext } from "./visit.ts";

const PAGE = 50;
/** Rows of each group on the page of all. */
const FIRST_ROWS = 10;
const FOREVER = Number.MAX_SAFE_INTEGER;

export function orderListRoutes(shop: Shop) {
  async function showGroup(c: SignedContext, group: OrderGroup) {
    const [shopId, { list, isWork }] = [c.get("shopId"), group];
    const after = readMark(c.req.query("after"));
    const [count, rows] = await Promise.all([
      shop.orderLists.count(shopId, list),
      shop.orderLists.page(shopId, list, { most: PAGE + 1, after, newestFirst: !isWork }),
    ]);
    const orders = rows.slice(0, PAGE);
    const last = orders.at(-1);
    const next = rows.length > PAGE && last ? `${last.placedAt}.${last.id}` : "";
    const model = orderGroupPage(c.get("owner"), { ...group, count, orders }, next);
    return c.html(await makerPage(shop, c, "orders", "maker-orders", model));
  }

  async function search(c: SignedContext, asked: string) {
    const shopId = c.get("shopId");
    const before = c.req.query("before");
    const found =
      before === undefined
        ? await shop.orderSearch.beginning(shopId, asked, readSearchMark(c.req.query("from")), PAGE)
        : await shop.orderSearch.inside(shopId, asked, momentOf(before), PAGE);
    const model = orderSearchPage(c.get("owner"), asked, found);
    return c.html(await makerPage(shop, c, "orders", "maker-orders", model));
  }

  return new Hono<Signed>().get("/", async (c) => {
    const shopId = c.get("shopId");
    const group = ORDER_GROUPS.find(({ list }) => list === c.req.query("state"));
    const asked = (c.req.query("q") ?? "").trim().slice(0, 100);
    if (asked !== "") return search(c, asked);
    if (group) return showGroup(c, group);
    const groups = await Promise.all(
      ORDER_GROUPS.map(async (each) => ({
        ...each,
        count: await shop.orderLists.count(shopId, each.list),
        orders: await shop.orderLists.page(shopId, each.list, {
          most: FIRST_ROWS,
          newestFirst: !each.isWork,
        }),
      })),
    );
    return c.html(
      await makerPage(shop, c, "orders", "maker-orders", ordersPage(c.get("owner"), groups)),
    );
  });
}

/** Seconds since 1970 of an address; what is none of these looks through all. */
function momentOf(text: string): number {
  return /^\d{1,12}$/.test(text) ? Number(text) : FOREVER;
}

/** "3.204117.Wren Ashdown": where a page of what begins so ended. */
function readSearchMark(text = ""): SearchMark | undefined {
  const [, range, row, key] = /^(\d{1,2})\.(\d{1,15})\.(.{1,500})$/s.exec(text) ?? [];
  return range && row && key ? { range: Number(range), row: Number(row), key } : undefined;
}

/** "1764000000.id", where a page ended. */
function readMark(text = ""): Mark | undefined {
  const [, seconds, id] = /^(\d{1,12})\.(.{1,64})$/.exec(text) ?? [];
  return seconds && id ? { placedAt: Number(seconds), id } : undefined;
}

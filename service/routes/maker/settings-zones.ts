/**
 * Shipping zones: how warm a parcel gets on its way, month by month. They are part of the shop's settings and are saved
 * over the same revision; a zone that is taken out can be put back.
 */
import { readForm } from "../../middleware.ts";
import { Hono } from "hono";
import { particularsOf } from "../../particulars.ts";
import {
  type ZoneFields,
  fieldsOfZone,
  readZone,
  typedZone,
  zonePage,
} from "../../pages/maker-shop-zone.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import type { ShopParticulars } from "../../shapes.ts";
import { wholeIn } from "../../typed/form-carried.ts";
import { makerPage } from "./page.ts";
import { saveParticulars } from "./save-particulars.ts";
import type { Signed, SignedContext } from "./visit.ts";

type Zone = NonNullable<ShopParticulars["zones"]>[number];

const HERE = "/maker/shop#zones";

export function zoneRoutes(shop: Shop) {
  function load(c: SignedContext) {
    const row = c.get("owner");
    const { zones = [], formerZones = [], ...rest } = particularsOf(row);
    const id = c.req.param("id") ?? "new";
    return { row, zones, formerZones, rest, id, zone: zones.find((each) => each.id === id) };
  }

  async function show(c: SignedContext, says: Partial<Parameters<typeof zonePage>[1]> = {}) {
    const { row, zone, id } = load(c);
    if (id !== "new" && !zone) throw unknown();
    const model = zonePage(row.revision, {
      ...{ id, fields: fieldsOfZone(zone), faults: [], overtaken: "" },
      ...says,
    });
    return await makerPage(shop, c, "shop", "maker-shop-zone", model);
  }

  async function write(c: SignedContext) {
    const form = await readForm(c);
    const { row, zones, formerZones, rest, zone, id } = load(c);
    if (id !== "new" && !zone) throw unknown();
    const since = wholeIn(form, "revision");
    const fields = typedZone(form);
    const again = async () => {
      c.set("owner", (await shop.shops.byId(row.id))!);
      const overtaken = inShort(fieldsOfZone(load(c).zone), fields);
      return c.html(await show(c, { fields, overtaken }), 409);
    };
    if (since !== row.revision) return await again();
    const taken = zones.filter((each) => each !== zone).map(({ name }) => name);
    const read = readZone(fields, taken);
    if ("faults" in read) {
      return c.html(await show(c, { fields, faults: read.faults, invalid: read.months }), 422);
    }
    const written: Zone = { id: zone?.id ?? shop.numbers.id(), ...read.zone };
    const next = zone ? zones.map((each) => (each === zone ? written : each)) : [...zones, written];
    const saved = await saveParticulars(shop, row, since, { ...rest, zones: next, formerZones });
    return saved ? c.redirect(HERE, 303) : await again();
  }

  /** Move a zone from one list to the other. */
  async function move(c: SignedContext, from: "zones" | "formerZones", to: typeof from) {
    const form = await readForm(c);
    const { row, zones, formerZones, rest, id } = load(c);
    const lists = { zones, formerZones };
    const zone = lists[from].find((each) => each.id === id);
    if (!zone) throw unknown();
    const since = wholeIn(form, "revision");
    const moved = {
      [from]: lists[from].filter((each) => each !== zone),
      [to]: [...lists[to], zone],
    };
    const saved =
      since === row.revision && (await saveParticulars(shop, row, since, { ...rest, ...moved }));
    if (saved) return c.redirect(HERE, 303);
    throw new Refusal(
      "maker.settings.outdated",
      "Somebody saved the shop’s settings while this page was open. Nothing was changed now: look again and decide.",
    );
  }

  return new Hono<Signed>()
    .get("/new", async (c) => c.html(await show(c)))
    .post("/new", write)
    .get("/:id", async (c) => c.html(await show(c)))
    .post("/:id", write)
    .post("/:id/remove", (c) => move(c, "zones", "formerZones"))
    .post("/:id/restore", (c) => move(c, "formerZones", "zones"));
}

function unknown(): Refusal {
  return new Refusal(
    "maker.zone.unknown",
    "There is no such zone; it may have been taken out. The shop’s page shows those that were.",
  );
}

/** What is stored where it differs from what was typed. */
function inShort(stored: ZoneFields, typed: ZoneFields): string {
  const same = JSON.stringify(stored) === JSON.stringify(typed);
  if (same) return "This zone is as you typed it.";
  return stored.name === ""
    ? "No zone was changed by you yet."
    : `This zone is now “${stored.name}” with ${stored.months.join(", ")} °C.`;
}

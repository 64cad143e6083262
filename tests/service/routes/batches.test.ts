/**
 * The bench's book by its pages: a batch looked over, written, split, set aside, closed, corrected and traced; orders
 * held, released, cancelled, searched; and what the bench may see of it.
 */
import { eq } from "drizzle-orm";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { QuoteRequest } from "#core/wire.ts";
import { batchLots, lots, orders, stockMovements, testJars } from "#data/schema.ts";
import { DEMO_PRODUCTS } from "#data/seeds/demo.ts";
import { issueTrial } from "#service/batches/trial.ts";
import { startingChoice } from "#core/compose/product.ts";
import { fieldsOn } from "../../helpers/form-fields.ts";
import {
  type Fields,
  benchHand,
  payOrder,
  sendForm,
  setParticulars,
} from "../../helpers/shop-acts.ts";
import { type TestShop, aQuoteRequest, openTestShop } from "../../helpers/shop.ts";

const SHOP = "quillfen";
let shop: TestShop;
let owner: string;
beforeEach(async () => {
  shop = await openTestShop();
  owner = await shop.signIn();
});
afterEach(() => shop.close());

const FIRMER: Partial<QuoteRequest> = {
  choice: {
    ...aQuoteRequest().choice,
    butters: [
      { ingredient: "shea-butter", share: 6200 },
      { ingredient: "cocoa-butter", share: 800 },
    ],
  },
};

const send = (path: string, cookie: string, fields?: Fields) =>
  sendForm(shop, path, cookie, fields);
const paid = (change?: Partial<QuoteRequest>, name?: string) => payOrder(shop, change, name);

const look = async (path: string, cookie = owner) => {
  const answer = await shop.request(path, { headers: { cookie, accept: "text/html" } });
  return { status: answer.status, page: await answer.text() };
};

async function write(ids: string[], more: [string, string][] = []) {
  const fields = ids.map((id): [string, string] => ["order", id]);
  return send("/maker/batches", owner, [...fields, ...more]);
}

async function written(...ids: string[]): Promise<string> {
  const where = (await write(ids)).headers.get("location");
  return where!.split("/").at(-1)!;
}

const set = (fields: [string, string][], name: string, value: string) =>
  fields.map((each): [string, string] => (each[0] === name ? [name, value] : each));

const theShop = async () => (await shop.shop.shops.byId(SHOP))!;
const stateOf = async (id: string) => (await shop.shop.orders.byId(id))!.state;
const lotsOf = async (ingredient: string) =>
  await shop.db.q.select().from(lots).where(eq(lots.ingredientId, ingredient));
const onHand = async () =>
  (await shop.db.q.select().from(lots)).map(({ id, onHandMg }) => [id, onHandMg]);

async function change(ingredient: string, to: Partial<typeof lots.$inferInsert>) {
  const set = shop.db.q.update(lots).set(to).where(eq(lots.ingredientId, ingredient));
  await shop.db.atomic([set]);
}

describe("a batch looked over", () => {
  it("lists what two blends of one base need together, and from which lots", async () => {
    const [one, two] = [await paid(), await paid(FIRMER)];
    const { page } = await look(`/maker/batches/new?order=${one.id}&order=${two.id}`);
    expect(page).toContain("in 2 runs");
    // Two runs of 2 x 120 g with 4 % over: 249.60 g each.
    for (const word of ["499.20", "TB-2207", "Enough", one.reference, two.reference]) {
      expect(page).toContain(word);
    }
    expect(await stateOf(one.id)).toBe("paid");
  });

  it("names what is short, what is there, and the order that could wait, and stores nothing", async () => {
    const one = await paid({ quantity: 4 });
    shop.pass(60);
    const two = await paid({ quantity: 2 });
    await change("sunflower-oil", { onHandMg: 80_000 });
    const { page } = await look(`/maker/batches/new?order=${one.id}&order=${two.id}`);
    // 14.5 % of 748.80 g is 108.58 g.
    expect(page).toMatch(/Sunflower oil: 108\.58.g needed, 80\.00.g to be had/);
    expect(page).toMatch(/Without <strong>(\w+)<\/strong>/);
    expect(/Without <strong>(\w+)</.exec(page)![1]).toBe(two.reference);
    const answer = await write([one.id, two.id]);
    expect(answer.status).toBe(422);
    expect(await stateOf(one.id)).toBe("paid");
    expect((await write([one.id])).status).toBe(303);
    expect((await write([two.id], [["short", "go"]])).status).toBe(303);
  });

  it("gets a number of its own when two at the bench write one at the same moment", async () => {
    const [one, two] = [await paid(), await paid()];
    const numbers = await Promise.all([written(one.id), written(two.id)]);
    expect(new Set(numbers).size).toBe(2);
    expect([await stateOf(one.id), await stateOf(two.id)]).toEqual(["in-making", "in-making"]);
  });

  it("is refused for orders of two bases, too many, and unknown ones", async () => {
    const base = DEMO_PRODUCTS[0]!.product.bases[1]!;
    const other = await paid({ choice: startingChoice(base) });
    const one = await paid();
    for (const ids of [
      [one.id, other.id],
      ["none"],
      [],
      Array.from({ length: 41 }, (_, n) => `${n}`),
    ]) {
      expect((await write(ids)).status).toBe(422);
    }
    expect([await stateOf(one.id), await stateOf(other.id)]).toEqual(["paid", "paid"]);
  });

  it("splits into loads when the vessel is too small, each with targets of its own on the sheet", async () => {
    await setParticulars(shop, { vesselMg: 250_000 });
    const number = await written((await paid({ quantity: 5 })).id, (await paid(FIRMER)).id);
    const { page } = await look(`/maker/batches/${number}/sheets`);
    expect(page).toContain("The vessel holds it in 3 loads");
    // 5 x 120 g with 4 % over is 624 g: three loads of 208 g; the other run fits.
    expect(page.match(/208\.00/g)!.length).toBeGreaterThanOrEqual(3);
    expect(page).toContain("run 2 of 2");
    expect(page).toContain("Fetch from the shelf");
    expect(page.match(/<span class="suggested">/g)!.length).toBeGreaterThan(8);
  });
});

describe("a batch set aside", () => {
  it("gives its orders back, and is taken up again unless one is elsewhere", async () => {
    const one = await paid();
    const number = await written(one.id);
    expect((await send(`/maker/batches/${number}/set-aside`, owner)).status).toBe(303);
    expect(await stateOf(one.id)).toBe("paid");
    expect((await look(`/maker/batches/${number}`)).page).toContain("Take it up again");
    expect((await send(`/maker/batches/${number}/take-up`, owner)).status).toBe(303);
    expect(await stateOf(one.id)).toBe("in-making");
    await send(`/maker/batches/${number}/set-aside`, owner);
    const next = await written(one.id);
    expect(next).not.toBe(number);
    expect((await send(`/maker/batches/${number}/take-up`, owner)).status).toBe(409);
    expect((await send(`/maker/batches/${number}/set-aside`, owner)).status).toBe(409);
  });
});

describe("a batch closed", () => {
  it("takes what was really weighed from the lots that were really used", async () => {
    const one = await paid();
    const number = await written(one.id);
    const form = fieldsOn((await look(`/maker/batches/${number}/close`)).page);
    const sheaLine = form.findIndex(([, value]) => value === "149.76");
    const name = form[sheaLine]![0];
    const more: [string, string][] = [
      ["jars-0", "2"],
      ["left-0", "7,5"],
      ["celsius-0", "21.5"],
      ["cupMl-0", "100"],
      ["cupG-0", "61.2"],
    ];
    const typed = more.reduce(
      (all, [key, value]) => set(all, key, value),
      set(form, name, "150.02"),
    );
    const answer = await send(`/maker/batches/${number}/close`, owner, [
      ...typed,
      ["texture-0", "soft"],
    ]);
    expect([answer.status, await stateOf(one.id)]).toEqual([303, "made"]);
    const shea = (await lotsOf("shea-butter")).find(({ code }) => code === "TB-2207")!;
    expect(shea.onHandMg).toBe(1_850_000 - 150_020);
    const moved = await shop.db.q
      .select()
      .from(stockMovements)
      .where(eq(stockMovements.lotId, shea.id));
    expect(moved.at(-1)).toMatchObject({ deltaMg: -150_020, why: "batch" });
    const { page } = await look(`/maker/batches/${number}`);
    for (const word of ["150.02", "0.612", "soft", "21.5", "7.50"]) expect(page).toContain(word);
  });

  it("stores nothing when a lot is short, says which and by how much, and keeps what was typed", async () => {
    const one = await paid();
    const number = await written(one.id);
    const form = fieldsOn((await look(`/maker/batches/${number}/close`)).page);
    await change("jojoba-oil", { onHandMg: 30_000 });
    const before = await onHand();
    const typed = set(form, "note", "the kettle whistled");
    const answer = await send(`/maker/batches/${number}/close`, owner, typed);
    const page = await answer.text();
    expect(answer.status).toBe(422);
    expect(page).toMatch(
      /Lot SO-4410 of Jojoba oil holds 30 g, and 37\.44 g is written: 7\.44 g is missing/,
    );
    expect(page).toContain("the kettle whistled");
    expect([await onHand(), await stateOf(one.id)]).toEqual([before, "in-making"]);
    expect(await shop.db.q.select().from(batchLots)).toEqual([]);
  });

  it.each([
    ["past its date", { bestBefore: "2001-01-01" }, "past its best-before"],
    ["blocked", { blockedBecause: "smells off" }, "smells off"],
  ])("takes a lot %s only with a reason", async (_, to, says) => {
    const number = await written((await paid()).id);
    const form = fieldsOn((await look(`/maker/batches/${number}/close`)).page);
    await change("jojoba-oil", to);
    const refused = await send(`/maker/batches/${number}/close`, owner, form);
    expect(refused.status).toBe(422);
    expect(await refused.text()).toContain(says);
    const line = form.find(([, value]) => value === "37.44")![0].split("-")[2]!;
    const reasoned = set(form, `why-0-${line}`, "smelled and tried, it is fine");
    expect((await send(`/maker/batches/${number}/close`, owner, reasoned)).status).toBe(303);
    expect((await look(`/maker/batches/${number}`)).page).toContain("smelled and tried");
  });

  it("cuts no reason short: one that is too long is told to be", async () => {
    const number = await written((await paid()).id);
    const form = fieldsOn((await look(`/maker/batches/${number}/close`)).page);
    const long = set(form, "why-0-0", "x".repeat(301));
    const answer = await send(`/maker/batches/${number}/close`, owner, long);
    expect(answer.status).toBe(422);
    expect(await answer.text()).toMatch(/Keep the reason for .+ to 300 characters; it has 301\./);
  });

  it.each([
    ["g-0-0-0", "0,150", "was to be weighed"],
    ["g-0-0-0", "0.14976", "three decimals"],
    ["g-0-0-0", "a lot", "cannot be"],
    ["g-0-0-0", "-3", "cannot be"],
    ["g-0-0-0", "", "is missing"],
    ["lot-0-0-0", "", "nobody could trace it"],
    ["lot-0-0-0", "somebody-elses", "nothing left on the shelf"],
    ["jars-0", "1", "Untick an order"],
    ["jars-0", "two", "a whole number"],
    ["left-0", "900", "more than the"],
    ["celsius-0", "212", "from -10 to 60"],
    ["cupG-0", "61", "the density write both"],
  ])("is refused for %s of “%s”, with a sentence and nothing stored", async (name, value, says) => {
    const number = await written((await paid()).id);
    const before = await onHand();
    const form = fieldsOn((await look(`/maker/batches/${number}/close`)).page);
    const answer = await send(`/maker/batches/${number}/close`, owner, set(form, name, value));
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain(says);
    expect(await onHand()).toEqual(before);
  });

  it("lets an order that came out short wait again, and is told when it is closed twice", async () => {
    const [one, two] = [await paid(), await paid()];
    const number = await written(one.id, two.id);
    const form = fieldsOn((await look(`/maker/batches/${number}/close`)).page);
    const typed = set(form, "jars-0", "2").filter(([, value]) => value !== two.id);
    expect((await send(`/maker/batches/${number}/close`, owner, typed)).status).toBe(303);
    expect([await stateOf(one.id), await stateOf(two.id)]).toEqual(["made", "paid"]);
    const before = await onHand();
    const again = await send(`/maker/batches/${number}/close`, owner, typed);
    expect(again.status).toBe(409);
    expect(await again.text()).toContain("closed already");
    expect(await onHand()).toEqual(before);
  });

  it("is corrected by a note and by nothing else", async () => {
    const number = await written((await paid()).id);
    const note = () =>
      send(`/maker/batches/${number}/notes`, owner, [["words", "The tare was <b>off</b>."]]);
    expect((await note()).status).toBe(422);
    const form = fieldsOn((await look(`/maker/batches/${number}/close`)).page);
    await send(`/maker/batches/${number}/close`, owner, form);
    expect((await note()).status).toBe(303);
    expect((await look(`/maker/batches/${number}`)).page).toContain("The tare was &lt;b&gt;off");
    expect((await send(`/maker/batches/${number}/set-aside`, owner)).status).toBe(409);
  });
});

describe("a trial", () => {
  const product = DEMO_PRODUCTS[0]!.product;
  const choice = startingChoice(product.bases[0]!);

  it("gets a number of its own when two are begun at the same moment", async () => {
    const request = { product, choice, massG: 80, personId: null };
    const at = await theShop();
    const numbers = await Promise.all([1, 2].map(() => issueTrial(shop.shop, at, request)));
    expect(new Set(numbers).size).toBe(2);
  });

  it("is weighed and closed like a batch, and its result becomes a test jar", async () => {
    const request = { product, choice, massG: 80, personId: null };
    const number = await issueTrial(shop.shop, await theShop(), request);
    expect((await look(`/maker/batches/${number}/sheets`)).page).toContain("80.00");
    const form = fieldsOn((await look(`/maker/batches/${number}/close`)).page);
    expect((await send(`/maker/batches/${number}/close`, owner, form)).status).toBe(303);
    expect((await look(`/maker/batches/${number}`)).page).toContain(
      `/maker/kitchen?batch=${number}`,
    );
    const jar = fieldsOn((await look(`/maker/kitchen?batch=${number}`)).page);
    expect(jar.filter(([name]) => name === "ingredient").map(([, id]) => id)).toContain(
      "shea-butter",
    );
    expect(jar.find(([name]) => name === "lot")![1]).toBe("TB-2207");
    const felt = set(set(jar, "netG", "59"), "jarMl", "100");
    const filled: [string, string][] = [...set(felt, "celsius", "21"), ["felt", "soft"]];
    expect((await send("/maker/kitchen/jars", owner, filled)).status).toBe(303);
    const [stored] = await shop.db.q.select().from(testJars);
    expect(stored!.batchId).toBe((await shop.shop.batches.byNumber(SHOP, number))!.id);
  });

  it.each([49, 201, 99.5, Number.NaN])(
    "takes 50 to 200 g in whole grams, not %d",
    async (massG) => {
      const trial = issueTrial(shop.shop, await theShop(), {
        product,
        choice,
        massG,
        personId: null,
      });
      await expect(trial).rejects.toMatchObject({ code: "make.batch.refused" });
    },
  );
});

describe("orders", () => {
  it("are held, released and cancelled with a reason, which the log keeps", async () => {
    const { id, reference } = await paid();
    const act = (what: string, why: string) =>
      send(`/maker/orders/${reference}/${what}`, owner, [["why", why]]);
    expect((await act("hold", "")).status).toBe(422);
    expect((await act("release", "not held")).status).toBe(409);
    expect((await act("hold", "asked for another jar")).status).toBe(303);
    expect((await look("/maker")).page).toContain("asked for another jar");
    expect((await act("release", "they agreed")).status).toBe(303);
    expect(await stateOf(id)).toBe("paid");
    await act("hold", "moved away");
    expect((await act("cancel", "cannot be sent there")).status).toBe(303);
    const { page } = await look(`/maker/orders/${reference}`);
    for (const words of [
      "released: they agreed",
      "cancelled: cannot be sent there",
      "is still with you",
    ]) {
      expect(page).toContain(words);
    }
  });

  it("leave their batch when they are held, and the others are made without them", async () => {
    const [one, two] = [await paid(), await paid()];
    const number = await written(one.id, two.id);
    await send(`/maker/orders/${one.reference}/hold`, owner, [["why", "wait"]]);
    const form = fieldsOn((await look(`/maker/batches/${number}/close`)).page);
    expect((await send(`/maker/batches/${number}/close`, owner, form)).status).toBe(303);
    expect([await stateOf(one.id), await stateOf(two.id)]).toEqual(["held", "made"]);
  });

  it("are grouped by what is to be done, and found by reference and by customer", async () => {
    const { reference } = await paid();
    await paid({}, "Teal \u202eO'Hara <b>");
    const { page } = await look("/maker/orders");
    expect(page).toContain("Waiting to be made.");
    expect(page).toContain("Teal \u202eO&#x27;Hara &lt;b&gt;");
    const search = async (q: string) =>
      (await look(`/maker/orders?q=${encodeURIComponent(q)}`)).page;
    expect(await search(reference.toLowerCase())).toContain(`/maker/orders/${reference}`);
    expect(await search("teal")).not.toContain(`/maker/orders/${reference}`);
    expect(await search("wren@customer")).toContain(`/maker/orders/${reference}`);
    expect(await search("nobody at all")).toContain("Nothing begins with");
    expect((await look("/maker/orders?state=paid&after=junk")).status).toBe(200);
  });
});

describe("a trace", () => {
  it("leads from a lot to customers and back, with a list a spreadsheet cannot run", async () => {
    const one = await paid({}, "=HYPERLINK(1)");
    const number = await written(one.id);
    const form = fieldsOn((await look(`/maker/batches/${number}/close`)).page);
    await send(`/maker/batches/${number}/close`, owner, form);
    const lot = (await look("/maker/trace?code=TB-2207")).page;
    for (const words of ["1 batch, 1 order, 2 jars", one.reference, "wren@customer.example"]) {
      expect(lot).toContain(words);
    }
    const id = /recall\.csv\?lot=([\w-]+)/.exec(lot)![1]!;
    const csv = await shop.request(`/maker/trace/recall.csv?lot=${id}`, {
      headers: { cookie: owner },
    });
    expect(csv.headers.get("content-type")).toContain("text/csv");
    const [head, row] = (await csv.text()).split("\r\n");
    expect(head).toContain(
      "lot,supplier,ingredient,batch,run,order,state,what,jars,customer,e-mail",
    );
    expect(row).toContain("'=HYPERLINK(1)");
    for (const jar of [one.reference, number, `${number} ${one.reference.toLowerCase()}`]) {
      expect((await look(`/maker/trace?jar=${jar}`)).page).toContain("TB-2207");
    }
    for (const nothing of ["jar=ZZZZZZ", "jar=hello%20there", "code=none", "lot=none"]) {
      const { status, page } = await look(`/maker/trace?${nothing}`);
      expect([status, /role="alert"/.test(page)]).toEqual([200, true]);
    }
    const hand = await benchHand(shop);
    const seen = (await look("/maker/trace?code=TB-2207", hand)).page;
    expect(seen).toContain(one.reference);
    const bare = await shop.request(`/maker/trace/recall.csv?lot=${id}`, {
      headers: { cookie: hand },
    });
    for (const text of [seen, await bare.text()]) {
      expect(text).not.toMatch(/HYPERLINK|wren@customer/);
    }
  });
});

describe("the bench", () => {
  it("sees no money and no customer on any page it may open", async () => {
    const [one, two] = [await paid(), await paid()];
    const number = await written(one.id);
    const hand = await benchHand(shop);
    const pages = [
      ...["/maker", "/maker/batches", `/maker/batches/new?order=${two.id}`],
      ...[`/maker/batches/${number}`, `/maker/batches/${number}/sheets`],
      ...[`/maker/batches/${number}/close`, `/maker/trace?jar=${number}`],
    ];
    for (const path of pages) {
      const { status, page } = await look(path, hand);
      expect([path, status]).toEqual([path, 200]);
      expect([path, /£|\d\.\d\d GBP|Wren|wren@/.exec(page)?.[0]]).toEqual([path, undefined]);
      expect([path, page.includes('href="/maker/orders')]).toEqual([path, false]);
    }
    expect((await look(`/maker/orders/${one.reference}`, hand)).status).toBe(403);
    const form = fieldsOn((await look(`/maker/batches/${number}/close`, hand)).page);
    expect((await send(`/maker/batches/${number}/close`, hand, form)).status).toBe(303);
    expect((await shop.db.q.select().from(orders)).map(({ state }) => state).sort()).toEqual([
      "made",
      "paid",
    ]);
  });
});

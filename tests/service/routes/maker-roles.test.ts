/**
 * Who may go where on the maker's side: every route there is, asked by nobody, the bench, an owner, and another shop's
 * owner. A route that no rule speaks of fails, so that a new area must say whose it is.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { OrderAnswer, Problem } from "#core/wire.ts";
import * as schema from "#data/schema.ts";
import { issueBatch } from "#service/actions/issue-batch.ts";
import { newSession } from "#service/actions/sign-in.ts";
import { createApp } from "#service/app.ts";
import type { PersonRow } from "#service/storage/people.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";
import { aTestJar } from "../storage/contract-rows.ts";
import { aLot } from "../storage/stock.contract.ts";

type Who = "anybody" | "bench and owner" | "owner";

/** Whose each part of the maker's side is; the first line that fits counts. A new page of an area needs no line. */
const RULES: readonly (readonly [RegExp, Who])[] = [
  [/^\/maker\/(enter|leave)(\/|$)/, "anybody"],
  [/^\/maker$/, "bench and owner"],
  [/^\/maker\/batches\/[^/]*\/record\/release$/, "owner"],
  [/^\/maker\/(you|batches|sent|kitchen|trace)(\/|$)/, "bench and owner"],
  [/^\/maker\/(orders|products|prices|shelf|shop|messages)(\/|$)/, "owner"],
];

/** What stands for a parameter of a route, by what comes before it, so that it meets something of the first shop. */
const MEETS: readonly (readonly [RegExp, (things: Things) => string])[] = [
  [/\/(orders|sent)\/$/, ({ reference }) => reference],
  [/\/batches\/$/, ({ batchNumber }) => batchNumber],
  [/\/kitchen\/jars\/$/, ({ jarId }) => jarId],
  [/\/products\/$/, () => "everyday"],
  [/\/products\/.*\/versions\/$/, () => "1"],
  [/\/products\/.*\/bases\/$/, () => "soft-shea"],
  [/\/shelf\/lots\/$/, ({ lotId }) => lotId],
  [/\/shelf\/$/, () => "shea-butter"],
  [/\/shop\/people\/$/, ({ handId }) => handId],
];

interface Things {
  readonly reference: string;
  readonly batchNumber: string;
  readonly jarId: string;
  readonly lotId: string;
  readonly handId: string;
}

const SHOP_NAME = "Quillfen";

/** Bodies that are no form: a part without its end, another mark between the parts, no mark, and no form at all. */
const UNREADABLE: readonly (readonly [string, string])[] = [
  [
    "multipart/form-data; boundary=cut",
    '--cut\r\ncontent-disposition: form-data; name="why"\r\n\r\nbeca',
  ],
  ["multipart/form-data; boundary=cut", "--torn\r\nwhatever"],
  ["multipart/form-data", "why=because"],
  ["text/plain", "why=because"],
];

let shop: TestShop;
let app: ReturnType<typeof createApp>;
let things: Things;
let people: Record<"owner" | "bench" | "stranger", PersonRow>;

beforeAll(async () => {
  shop = await openTestShop();
  app = createApp(shop.shop);
  const row = (await shop.shop.shops.byId("quillfen"))!;
  const particulars = row.particulars.replaceAll(SHOP_NAME, "Otherwick");
  const other = { ...row, id: "otherwick", name: "Otherwick", particulars };
  await shop.db.atomic([shop.db.q.insert(schema.shops).values(other)]);
  const join = async (shopId: string, name: string, role: PersonRow["role"]) => {
    const id = crypto.randomUUID();
    await shop.shop.people.add({ id, shopId, name, role, createdAt: 1 });
    return (await shop.shop.people.byId(shopId, id))!;
  };
  people = {
    owner: await join("quillfen", "Maya", "owner"),
    bench: await join("quillfen", "Hand", "bench"),
    stranger: await join("otherwick", "Stranger", "owner"),
  };
  things = { ...(await anOrderInABatch()), ...(await rowsOfTheShelf()), handId: people.bench.id };
});
afterAll(() => shop.close());

/** Every route of the maker's side; middleware answers to ALL and is none. */
function routes() {
  return app.routes
    .filter(({ method, path }) => method !== "ALL" && /^\/maker(\/|$)/.test(path))
    .map(({ method, path }) => ({ method, path }));
}

const ruleFor = (path: string) => RULES.find(([pattern]) => pattern.test(path))?.[1];

async function anOrderInABatch() {
  const { token } = await shop.quote();
  const order = (await (await shop.post("/v1/orders", { quote: token })).json()) as OrderAnswer;
  const pay = `${new URL(order.payUrl!).pathname}/pay`;
  await shop.request(pay, { method: "POST", headers: { "sec-fetch-site": "same-origin" } });
  const { id } = (await shop.db.q.select().from(schema.orders))[0]!;
  const request = { orderIds: [id], personId: null, goShort: true };
  const batch = await issueBatch(shop.shop, (await shop.shop.shops.byId("quillfen"))!, request);
  if (!("number" in batch)) throw new Error("the batch was not issued");
  return { reference: order.reference, batchNumber: batch.number };
}

async function rowsOfTheShelf() {
  const jar = aTestJar();
  await shop.shop.testJars.add(jar);
  const lot = aLot();
  await shop.db.atomic([shop.db.q.insert(schema.lots).values(lot)]);
  return { jarId: jar.id, lotId: lot.id };
}

function addressOf(path: string): string {
  const steps = path.replaceAll(/\{[^}]*\}/g, "").split("/");
  return steps.reduce((before, step) => {
    if (!step.includes(":")) return `${before}/${step}`;
    const meets = MEETS.find(([pattern]) => pattern.test(`${before}/`))?.[1](things) ?? "none";
    return `${before}/${step.replace(/:.*/, "")}${meets}`;
  });
}

/** Ask with a session of its own, since a route may end it. */
async function ask(
  method: string,
  path: string,
  person: PersonRow | undefined,
  accept: string,
  sent?: { readonly type: string; readonly body: string },
) {
  let cookie = "";
  if (person) {
    const session = await newSession(shop.shop, person);
    await shop.db.atomic([shop.db.q.insert(schema.sessions).values(session.row)]);
    cookie = `softset=${session.token}`;
  }
  const type = sent ? { "content-type": sent.type } : {};
  const headers = { accept, cookie, "sec-fetch-site": "same-origin", ...type };
  const body = method === "GET" ? {} : { body: sent?.body ?? new URLSearchParams() };
  return await app.request(`http://shop.test${addressOf(path)}`, { method, headers, ...body });
}

async function codeOf(answer: Response): Promise<string> {
  const problem = /problem\+json/.test(answer.headers.get("content-type") ?? "");
  return problem ? ((await answer.json()) as Problem).code : "";
}

/** Everything the first shop has, as text. */
async function everythingOf(shopId: string): Promise<string> {
  const { q } = shop.db;
  const tables = [
    ...[schema.shops, schema.people, schema.products, schema.orders, schema.batches],
    ...[schema.ingredients, schema.lots, schema.testJars, schema.passkeys, schema.productDrafts],
  ];
  const rows = await Promise.all(tables.map((table) => q.select().from(table)));
  const theirs = rows.flat().filter((row) => {
    const { id, shopId: of } = row as { id?: string; shopId?: string };
    return of === shopId || (of === undefined && id !== "otherwick");
  });
  return JSON.stringify(theirs);
}

describe("the maker's side", () => {
  it("has a rule for every route, and a route for every rule in use", () => {
    expect(routes().length).toBeGreaterThan(30);
    expect(routes().filter(({ path }) => ruleFor(path) === undefined)).toEqual([]);
  });

  it("shows nobody the way in, and takes nothing from them", async () => {
    for (const { method, path } of routes()) {
      const program = await ask(method, path, undefined, "application/json");
      const browser = await ask(method, path, undefined, "text/html");
      const shut = await codeOf(program);
      if (ruleFor(path) === "anybody") {
        expect([path, shut === "maker.sign-in.needed"]).toEqual([path, false]);
        continue;
      }
      expect([method, path, shut]).toEqual([method, path, "maker.sign-in.needed"]);
      const [status, where] = [browser.status, browser.headers.get("location")];
      const door = `/maker/enter?to=${encodeURIComponent(addressOf(path))}`;
      expect([path, status, where]).toEqual(
        method === "GET" ? [path, 303, door] : [path, 401, null],
      );
    }
  });

  it("keeps the bench out of what is the owner's, and lets it in elsewhere", async () => {
    for (const { method, path } of routes()) {
      const answer = await ask(method, path, people.bench, "application/json");
      const refused = (await codeOf(answer)) === "maker.role.not-enough";
      expect([method, path, refused]).toEqual([method, path, ruleFor(path) === "owner"]);
    }
  });

  it("shows the bench no money on any page it may see, and no way to where it may not go", async () => {
    const shown: unknown[] = [];
    let seen = 0;
    for (const { path } of routes().filter(({ method }) => method === "GET")) {
      const answer = await ask("GET", path, people.bench, "text/html");
      if (answer.status !== 200) continue;
      seen += 1;
      const page = await answer.text();
      for (const [what] of page.matchAll(
        /£\s?\d|href="\/maker\/(orders|products|prices|shelf|shop|messages)\b/g,
      )) {
        shown.push([path, what]);
      }
    }
    expect(shown).toEqual([]);
    expect(seen).toBeGreaterThan(5);
  });

  it("shows another shop's owner nothing of this one, and lets them change nothing in it", async () => {
    const before = await everythingOf("quillfen");
    const secrets = [SHOP_NAME, "Maya", "Hand", "Everyday butter", "Soft shea", things.reference];
    const shown: unknown[] = [];
    for (const { method, path } of routes()) {
      const answer = await ask(method, path, people.stranger, "text/html");
      const page = await answer.text();
      if (answer.status >= 500) shown.push([method, path, answer.status]);
      for (const theirs of secrets) {
        if (page.includes(theirs)) shown.push([method, path, theirs]);
      }
    }
    expect(shown).toEqual([]);
    expect(await everythingOf("quillfen")).toBe(before);
  });

  it("says so when a form does not arrive whole, and changes nothing", async () => {
    const odd: unknown[] = [];
    let read = 0;
    for (const { method, path } of routes().filter((each) => each.method === "POST")) {
      const answers: string[] = [];
      for (const [type, body] of UNREADABLE) {
        const sent = { type, body };
        answers.push(await codeOf(await ask(method, path, people.owner, "application/json", sent)));
      }
      const isForm = answers.includes("request.form.malformed");
      if (isForm) read += 1;
      // A press with no fields looks at no body; and JSON is refused by its own code.
      const same = answers.every((code) => code === answers[0]);
      if (answers.includes("service.failed") || (isForm && !same)) odd.push([path, answers]);
    }
    expect(odd).toEqual([]);
    expect(read).toBeGreaterThan(35);
    const before = await everythingOf("quillfen");
    const page = await ask("POST", "/maker/products/new", people.owner, "text/html", {
      ...{ type: UNREADABLE[0]![0], body: UNREADABLE[0]![1] },
    });
    expect([page.status, await page.text()]).toEqual([
      400,
      expect.stringContaining("nothing was changed"),
    ]);
    expect(await everythingOf("quillfen")).toBe(before);
  });

  it("lets an owner everywhere, and has a sentence for a form with nothing in it", async () => {
    const odd: unknown[] = [];
    for (const { method, path } of routes()) {
      const answer = await ask(method, path, people.owner, "application/json");
      const { status } = answer;
      const code = await codeOf(answer);
      const refused = /^maker\.(role\.not-enough|sign-in\.needed)$/.test(code);
      if (refused || status >= 500) odd.push([method, path, status, code]);
    }
    expect(odd).toEqual([]);
  });
});

describe("the rules, on planted routes", () => {
  it.each(["/maker/ledger", "/maker/shopping", "/maker/youth/:id", "/makers"])(
    "have nothing to say of %s, which would fail",
    (path) => {
      expect(ruleFor(path)).toBeUndefined();
    },
  );
});

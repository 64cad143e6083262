/**
 * The maker's side beyond who may come in: the way to the door, no money before the bench's eyes, and forms that do not
 * arrive whole.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Problem } from "#core/wire.ts";
import { type GuardedShop, addressOf, openGuardedShop } from "./guarded-shop.ts";
import { RULES } from "./route-rules.ts";

let shop: GuardedShop;
beforeAll(async () => {
  shop = await openGuardedShop();
});
afterAll(() => shop.close());

const routes = (method: string, ...rules: readonly string[]) =>
  [...RULES]
    .filter(([route, rule]) => route.startsWith(`${method} /maker`) && rules.includes(rule))
    .map(([route]) => addressOf(route.slice(method.length + 1), shop.things));

describe("a browser without a session", () => {
  it("is shown the door, and comes back to where it wanted to go", async () => {
    const odd: unknown[] = [];
    for (const path of routes("GET", "inside", "owner")) {
      const { status, headers } = await shop.ask("nobody", "GET", path);
      const door = `/maker/enter?to=${encodeURIComponent(path)}`;
      if (status !== 303 || headers.get("location") !== door) odd.push([path, status]);
    }
    expect(odd).toEqual([]);
    expect((await shop.ask("nobody", "POST", "/maker/batches")).status).toBe(401);
  });
});

describe("the bench", () => {
  it("sees no money on any page it may see, and no way to where it may not go", async () => {
    const shown: unknown[] = [];
    let seen = 0;
    for (const path of routes("GET", "inside").filter((each) => !each.endsWith(".pdf"))) {
      const answer = await shop.ask("bench", "GET", path);
      if (answer.status !== 200) continue;
      seen += 1;
      const page = await answer.text();
      const found = page.matchAll(
        /£\s?\d|href="\/maker\/(orders|products|prices|shelf|shop|messages)\b/g,
      );
      shown.push(...[...found].map(([what]) => [path, what]));
    }
    expect(shown).toEqual([]);
    expect(seen).toBeGreaterThan(12);
  });
});

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

describe("a form that does not arrive whole", () => {
  it("is told of as such by every route that reads one", async () => {
    const odd: unknown[] = [];
    let read = 0;
    for (const path of routes("POST", "inside", "owner", "door")) {
      const codes: string[] = [];
      for (const [type, body] of UNREADABLE) {
        const asked = { accept: "application/json", body, headers: { "content-type": type } };
        const answer = await shop.ask("owner", "POST", path, asked);
        const isProblem = answer.headers.get("content-type") === "application/problem+json";
        codes.push(isProblem ? ((await answer.json()) as Problem).code : String(answer.status));
      }
      const isForm = codes.includes("request.form.malformed");
      if (isForm) read += 1;
      // A press with no fields looks at no body; and JSON is refused by its own code.
      const same = codes.every((code) => code === codes[0]);
      if (codes.includes("service.failed") || (isForm && !same)) odd.push([path, codes]);
    }
    expect(odd).toEqual([]);
    expect(read).toBeGreaterThan(35);
  });

  it("changes nothing, and says so on a page", async () => {
    const products = async () => (await shop.shop.products.names("quillfen", 99)).length;
    const before = await products();
    const [type, body] = UNREADABLE[0]!;
    const asked = { body, headers: { "content-type": type } };
    const page = await shop.ask("owner", "POST", "/maker/products/new", asked);
    expect([page.status, await page.text()]).toEqual([
      400,
      expect.stringContaining("nothing was changed"),
    ]);
    expect(await products()).toBe(before);
  });
});

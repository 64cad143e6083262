/**
 * What ran out at the maker's: customers see it and cannot order it, whichever way they ask, until there is some again.
 */
import { eq } from "drizzle-orm";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { NearestAnswer, Problem, ProductOffer, VerdictAnswer } from "#core/wire.ts";
import { ingredients, orders } from "#data/schema.ts";
import { type TestShop, aQuoteRequest, openTestShop } from "../../helpers/shop.ts";

const OIL = "jojoba-oil";

let shop: TestShop;
let cookie: string;
beforeEach(async () => {
  shop = await openTestShop();
  cookie = await shop.signIn();
});
afterEach(() => shop.close());

const revisionOf = async (id: string) =>
  (await shop.db.q.select().from(ingredients).where(eq(ingredients.id, id)))[0]!.revision;

/** Press a button of the ingredient's page, as the page was read just now. */
async function press(button: "ran-out" | "there-again", id = OIL) {
  const answer = await shop.request(`/maker/shelf/${id}/${button}`, {
    method: "POST",
    headers: { "sec-fetch-site": "same-origin", cookie, accept: "text/html" },
    body: new URLSearchParams({ revision: String(await revisionOf(id)) }),
  });
  expect(answer.status).toBe(303);
  // What is for sale may be a second old where it is only looked at.
  shop.pass(2);
}

const read = async (path: string) =>
  (await shop.request(path, { headers: { cookie, accept: "text/html" } })).text();
const offer = async () =>
  (await (await shop.request("/v1/products/everyday")).json()) as ProductOffer;
const goneIn = ({ ingredients }: ProductOffer) =>
  ingredients.filter(({ ranOut }) => ranOut).map(({ id }) => id);
const CODE = "compose.ingredient.ran-out";

describe("an oil that ran out", () => {
  it("is marked in the offer, judged as refused and not quoted, until there is some again", async () => {
    expect(goneIn(await offer())).toEqual([]);
    await press("ran-out");
    expect(goneIn(await offer())).toEqual([OIL]);
    const request = aQuoteRequest();
    const verdict = (await (
      await shop.post("/v1/verdicts", { product: request.product, choice: request.choice })
    ).json()) as VerdictAnswer;
    expect(verdict.verdict).toBe("refused");
    expect(verdict.sentences).toContain(
      "Jojoba oil has run out for the time being. Choose something else in its place.",
    );
    // The blend itself can still be judged and shown.
    expect(verdict.firmness?.settled).toBe("soft");
    const quoted = await shop.post("/v1/quotes", request);
    const problem = (await quoted.json()) as Problem;
    expect([quoted.status, problem.findings?.map(({ code }) => code)]).toEqual([422, [CODE]]);
    await press("there-again");
    expect(goneIn(await offer())).toEqual([]);
    expect((await shop.post("/v1/quotes", request)).status).toBe(201);
  });

  it("is not in the nearest blend that is offered instead", async () => {
    await press("ran-out");
    const { product, choice } = aQuoteRequest();
    const nearest = (await (
      await shop.post("/v1/nearest", { product, choice })
    ).json()) as NearestAnswer;
    if (nearest.kind !== "found") throw new Error(nearest.kind);
    const oils = nearest.choice.oils.filter(({ share }) => share > 0);
    expect(oils.map(({ ingredient }) => ingredient)).not.toContain(OIL);
    expect(
      (await shop.post("/v1/quotes", { ...aQuoteRequest(), choice: nearest.choice })).status,
    ).toBe(201);
  });

  it("stops an order whose quote was given before, and nothing is stored", async () => {
    const { token } = await shop.quote();
    await press("ran-out");
    const answer = await shop.post("/v1/orders", { quote: token });
    const problem = (await answer.json()) as Problem;
    expect([answer.status, problem.findings?.map(({ code }) => code)]).toEqual([422, [CODE]]);
    expect(await shop.db.q.select().from(orders)).toEqual([]);
  });

  it("is said on the page that needs no script", async () => {
    expect(await read("/shop/everyday")).not.toContain("has run out");
    await press("ran-out", "shea-butter");
    expect(await read("/shop/everyday")).toContain("Shea butter has run out for the time being");
  });

  it("is told first on the shelf, and asked for only where something for sale names it", async () => {
    expect(await read(`/maker/shelf/${OIL}`)).toContain("It ran out</button>");
    await press("ran-out");
    const sheet = await read(`/maker/shelf/${OIL}`);
    expect(sheet).toContain("There is some again</button>");
    expect(sheet).not.toContain("It ran out</button>");
    expect(await read("/maker/shelf")).toContain("Customers cannot choose it until you say");
  });

  it("changes nothing for the maker's own drafts", async () => {
    await press("ran-out");
    expect(await read("/maker/products/everyday")).not.toContain("run out for the time being");
  });
});

/**
 * The kitchen's page: test jars written down, struck out and restored, and the law the shop judges by.
 */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { PUBLISHED_LAW } from "#core/judge/firmness.ts";
import type { OrderAnswer, ProductOffer, VerdictAnswer } from "#core/wire.ts";
import { kitchenLaws, testJars } from "#data/schema.ts";
import { type TestShop, aQuoteRequest, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
let cookie: string;
beforeEach(async () => {
  shop = await openTestShop();
  cookie = await shop.signIn();
});
afterEach(() => shop.close());

const OURS = { "sec-fetch-site": "same-origin" };

type Fields = Record<string, string | string[]>;

function send(path: string, fields: Fields = {}, headers: Record<string, string> = OURS) {
  const body = new URLSearchParams(
    Object.entries(fields).flatMap(([name, value]) => [value].flat().map((each) => [name, each])),
  );
  return shop.request(`/maker/kitchen${path}`, {
    method: "POST",
    headers: { ...headers, cookie, "content-type": "application/x-www-form-urlencoded" },
    body,
  });
}

const page = async () =>
  (await shop.request("/maker/kitchen", { headers: { cookie, accept: "text/html" } })).text();

const aJar = (change: Fields = {}): Fields => ({
  id: crypto.randomUUID(),
  base: "everyday/soft-shea",
  netG: "60",
  jarMl: "100",
  daysRested: "7",
  celsius: "21",
  felt: "firm",
  coneAngle: "40",
  ...change,
});

const rows = () => shop.db.q.select().from(testJars);

/** Jars of a kitchen whose butter sets far firmer than published. */
async function firmKitchen(count = 4): Promise<void> {
  for (let jar = 0; jar < count; jar++) {
    expect((await send("/jars", aJar({ felt: "hard" }))).status).toBe(303);
  }
}

async function offer(): Promise<ProductOffer> {
  return (await (await shop.request("/v1/products/everyday")).json()) as ProductOffer;
}

async function verdict(): Promise<VerdictAnswer> {
  const { product, choice } = aQuoteRequest();
  return (await (await shop.post("/v1/verdicts", { product, choice })).json()) as VerdictAnswer;
}

describe("the kitchen's door", () => {
  it("stays shut without a session and to forms from elsewhere", async () => {
    expect((await shop.request("/maker/kitchen")).status).toBe(401);
    for (const path of ["/jars", "/jars/x/strike", "/jars/x/restore", "/law"]) {
      expect((await send(path, aJar(), { "sec-fetch-site": "cross-site" })).status).toBe(403);
      const open = { method: "POST", headers: { ...OURS, "content-length": "0" } };
      expect((await shop.request(`/maker/kitchen${path}`, open)).status).toBe(401);
    }
    expect(await rows()).toEqual([]);
  });

  it("is on every bench page", async () => {
    const bench = await shop.request("/maker", { headers: { cookie } });
    expect(await bench.text()).toContain('href="/maker/kitchen"');
  });
});

describe("a test jar", () => {
  it("is written down as it was weighed and felt, with its air reckoned", async () => {
    const answer = await send("/jars", aJar({ lot: "S-12", note: "warm <day>" }));
    expect(answer.status).toBe(303);
    expect(answer.headers.get("location")).toBe("/maker/kitchen#jars");
    expect(await rows()).toMatchObject([
      {
        number: 1,
        title: "Everyday butter, Soft shea",
        netMg: 60_000,
        jarUl: 100_000,
        grade: "firm",
      },
    ]);
    const shown = await page();
    expect(shown).toContain("lot S-12");
    expect(shown).toContain("warm &lt;day&gt;");
    // 0.6 g/ml of a butter of about 0.93 g/ml: a third is air.
    expect(shown).toMatch(/3[4-7] %/);
  });

  it("takes parts written down, with a comma for the point", async () => {
    const parts = {
      base: "",
      ingredient: ["shea-butter", "", "jojoba-oil"],
      percent: ["70,5", "", "29.5"],
    };
    expect((await send("/jars", aJar(parts))).status).toBe(303);
    const [row] = await rows();
    expect(row!.title).toBe("Shea butter 70.5, Jojoba oil 29.5");
    expect(JSON.parse(row!.parts)).toEqual([
      { ingredient: "shea-butter", share: 7050 },
      { ingredient: "jojoba-oil", share: 2950 },
    ]);
  });

  it("takes a cone instead of a finger", async () => {
    const cone = { felt: "cone", coneDepth: "100", coneWeight: "80", coneAngle: "40" };
    expect((await send("/jars", aJar(cone))).status).toBe(303);
    expect(await rows()).toMatchObject([{ grade: null, coneDepthTenthMm: 100, coneWeightG: 80 }]);
    expect(await page()).toContain("soft, by cone");
  });

  it("is stored once, though its form is sent twice", async () => {
    const jar = aJar();
    const answers = await Promise.all([send("/jars", jar), send("/jars", jar)]);
    expect(answers.map(({ status }) => status)).toEqual([303, 303]);
    expect(await rows()).toHaveLength(1);
  });

  it.each<[string, Fields, RegExp]>([
    ["no blend", { base: "" }, /choose a base, or write down its parts/],
    ["a base and parts", { ingredient: ["shea-butter"], percent: ["100"] }, /not both/],
    ["a base that is gone", { base: "everyday/gone" }, /no longer for sale/],
    [
      "parts that miss the whole",
      { base: "", ingredient: ["shea-butter"], percent: ["90"] },
      /add up to 90 %/,
    ],
    [
      "a part without its share",
      { base: "", ingredient: ["shea-butter"], percent: [""] },
      /share of Shea butter/,
    ],
    [
      "a share without its part",
      { base: "", ingredient: [""], percent: ["100"] },
      /ingredient for 100 %/,
    ],
    ["a made-up part", { base: "", ingredient: ["moon-oil"], percent: ["100"] }, /no “moon-oil”/],
    ["no weight", { netG: "" }, /net weight is missing: write a number from 1 to 10000 g/],
    ["words for a weight", { netG: "sixty" }, /net weight cannot be “sixty”/],
    ["half a day", { daysRested: "2.5" }, /rest cannot be “2.5”: write a whole number/],
    ["an oven", { celsius: "61" }, /temperature cannot be “61”/],
    ["more than the jar can hold", { netG: "110" }, /110 g cannot fit into 100 ml/],
    ["next to nothing in the jar", { netG: "10" }, /more than four fifths air/],
    ["no feeling", { felt: "" }, /Say how the jar felt/],
    ["a cone without its depth", { felt: "cone", coneWeight: "80" }, /depth is missing/],
    [
      "a needle",
      { felt: "cone", coneDepth: "100", coneWeight: "80", coneAngle: "9" },
      /angle of the cone cannot be “9”/,
    ],
    [
      "a cone that fell through",
      { felt: "cone", coneDepth: "900", coneWeight: "80" },
      /holds from 45 to 8300/,
    ],
    ["a long note", { note: "x".repeat(201) }, /Keep the note to 200 characters/],
  ])("is refused with %s, in a sentence, and keeps what was typed", async (_, change, says) => {
    const answer = await send("/jars", aJar({ note: "keep me", ...change }));
    expect(answer.status).toBe(422);
    const shown = await answer.text();
    expect(shown).toMatch(says);
    expect(shown).toContain("Not written down yet");
    const note = typeof change["note"] === "string" ? change["note"] : "keep me";
    expect(shown).toContain(`value="${note}"`);
    expect(await rows()).toEqual([]);
  });

  it("is struck out and restored, and never deleted", async () => {
    await firmKitchen(1);
    const [{ id } = { id: "" }] = await rows();
    expect((await send(`/jars/${id}/strike`)).status).toBe(303);
    expect(await page()).toContain("Not learned from: struck out.");
    expect((await send(`/jars/${id}/restore`)).status).toBe(303);
    expect(await page()).not.toContain("struck out.");
    expect(await rows()).toMatchObject([{ id, struckAt: null }]);
    expect((await send("/jars/nobody/strike")).status).toBe(404);
  });

  it("is kept and not learned from when it is young or all but molten", async () => {
    await send("/jars", aJar({ daysRested: "2" }));
    await send("/jars", aJar({ celsius: "55", netG: "85", felt: "fluid" }));
    const shown = await page();
    expect(shown).toContain("rested under 3 days");
    expect(shown).toContain("all but molten");
    expect(shown).toContain("there are 0 so far");
  });
});

describe("the law in force", () => {
  it("is the published one until the maker says otherwise, whatever the jars say", async () => {
    await firmKitchen();
    expect((await offer()).law).toBeUndefined();
    expect((await verdict()).firmness!.settled).toBe("soft");
    expect(await page()).toContain("The published one");
  });

  it("cannot be the kitchen's own with fewer than three jars", async () => {
    await firmKitchen(2);
    const answer = await send("/law", { use: "own", since: "0" });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain("learns from 3 jars or more; there are 2");
    expect(await shop.db.q.select().from(kitchenLaws)).toEqual([]);
  });

  it("judges offers, verdicts, quotes, orders and work orders once it is switched on", async () => {
    await firmKitchen();
    const { token } = await shop.quote();
    const published = (await verdict()).firmness!.yieldPa;
    expect((await send("/law", { use: "own", since: "0" })).status).toBe(303);
    shop.pass(1); // what is for sale may be looked at for a second
    const { law } = await offer();
    expect(law!.scalePa).toBeGreaterThan(PUBLISHED_LAW.scalePa);
    const own = await verdict();
    expect(own.firmness!.yieldPa).toBeGreaterThan(1.5 * published);
    expect(own.verdict).toBe("refused");
    expect(own.findings).toContainEqual(
      expect.objectContaining({ code: "judge.firmness.too-hard" }),
    );
    expect((await shop.post("/v1/quotes", aQuoteRequest())).status).toBe(422);
    // The quote made before was orderable by the law of its hour, and no longer is.
    const order = await shop.post("/v1/orders", { quote: token });
    expect([order.status, ((await order.json()) as { code: string }).code]).toEqual([
      422,
      "judge.blend.refused",
    ]);
    expect(await page()).toContain("Judged by your own kitchen, learned from 4 jars");
  });

  it("is a snapshot: a jar struck out moves it only when the maker says so", async () => {
    await firmKitchen();
    await send("/law", { use: "own", since: "0" });
    const before = (await offer()).law;
    const [{ id } = { id: "" }] = await rows();
    await send(`/jars/${id}/strike`);
    shop.pass(1);
    expect((await offer()).law).toEqual(before);
    expect(await page()).toContain("Take what the jars say now");
    await send("/law", { use: "own", since: "1" });
    shop.pass(1);
    expect((await offer()).law!.scalePa).toBeLessThan(before!.scalePa);
    expect(await page()).not.toContain("Take what the jars say now");
  });

  it("goes back to the published one, and every law it had is kept", async () => {
    await firmKitchen();
    await send("/law", { use: "own", since: "0" });
    expect((await send("/law", { use: "published", since: "1" })).status).toBe(303);
    shop.pass(1);
    expect((await offer()).law).toBeUndefined();
    const kept = await shop.db.q.select().from(kitchenLaws);
    expect(kept.map(({ revision, law, jars }) => [revision, law === null, jars])).toEqual([
      [1, false, 4],
      [2, true, 0],
    ]);
    const placed = await shop.post("/v1/orders", { quote: (await shop.quote()).token });
    expect(((await placed.json()) as OrderAnswer).state).toBe("placed");
  });

  it("is changed by one of two people who change it at once", async () => {
    await firmKitchen();
    const answers = await Promise.all(
      Array.from({ length: 3 }, () => send("/law", { use: "own", since: "0" })),
    );
    expect(answers.filter(({ status }) => status === 303)).toHaveLength(1);
    expect(await shop.db.q.select().from(kitchenLaws)).toHaveLength(1);
    const late = await send("/law", { use: "published", since: "0" });
    expect(late.status).toBe(422);
    expect(await late.text()).toContain("changed while this page was open");
  });

  it("says of each base how many jars are like it, and when they are too few", async () => {
    await firmKitchen();
    const shown = await page();
    expect(shown).toContain("0: too few to lean on");
    expect(shown).toMatch(/Soft shea<\/th>.*?<td data-what="Jars like it">4<\/td>/s);
    expect(shown).toContain("The published law calls 4 of 4 jars by another class");
  });
});

/**
 * The shop's settings: saved over what was read, bad values named, nothing typed lost.
 */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { ProductOffer } from "#core/wire.ts";
import { shops } from "#data/schema.ts";
import { type ShopParticulars, ShopParticularsShape } from "#service/shapes.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
let cookie: string;
beforeEach(async () => {
  shop = await openTestShop();
  cookie = await shop.signIn();
  const plain = { maker: "Quillfen Workshop", scaleStepMg: 10, country: "GB" };
  const particulars = JSON.stringify({ ...plain, timeZone: "Europe/London" });
  await shop.db.atomic([shop.db.q.update(shops).set({ particulars })]);
});
afterEach(() => shop.close());

const SHOP = "/maker/shop";

const look = (path = SHOP) => shop.request(path, { headers: { cookie, accept: "text/html" } });

const press = (path: string, fields: Record<string, string>) =>
  shop.request(path, {
    method: "POST",
    headers: { "sec-fetch-site": "same-origin", cookie, accept: "text/html" },
    body: new URLSearchParams(fields),
  });

const row = async () => (await shop.shop.shops.byId("quillfen"))!;
const particulars = async (): Promise<ShopParticulars> =>
  ShopParticularsShape.parse(JSON.parse((await row()).particulars));

const aForm = (change: Record<string, string> = {}) => ({
  revision: "1",
  ...{ name: "Quillfen & Daughter", maker: "Quillfen", country: "IE", locale: "en-IE" },
  ...{ timeZone: "Europe/Dublin", currency: "EUR", scaleG: "0,1", vesselG: "2 500,5" },
  ...{ leadDays: "6", responsibleName: "Maya", responsibleAddress: "1 Lane\r\nCork" },
  ...change,
});

const MONTHS = [8, 9, 12, 16, 21, 26, 29, 28.5, 24, 18, 12, 9];
const aZone = (change: Record<string, string> = {}) => ({
  name: "At home",
  revision: "1",
  ...Object.fromEntries(MONTHS.map((celsius, at) => [`month-${at + 1}`, String(celsius)])),
  ...change,
});

describe("the settings of a shop", () => {
  it("are saved, with commas as points, and are what the page shows", async () => {
    const saved = await press(SHOP, aForm());
    expect([saved.status, saved.headers.get("location")]).toEqual([303, "/maker/shop?saved"]);
    expect(await row()).toMatchObject({
      ...{ name: "Quillfen & Daughter", locale: "en-IE", currency: "EUR", currencyExponent: 2 },
      revision: 2,
    });
    expect(await particulars()).toEqual({
      ...{ maker: "Quillfen", country: "IE", timeZone: "Europe/Dublin", scaleStepMg: 100 },
      ...{ vesselMg: 2_500_500, leadDays: 6 },
      responsible: { name: "Maya", address: "1 Lane\nCork" },
    });
    const page = await (await look("/maker/shop?saved")).text();
    for (const words of ["Saved.", "Quillfen &amp; Daughter", 'value="0.1"', 'value="2500.5"']) {
      expect(page).toContain(words);
    }
    expect(page).toMatch(/<option value="Europe\/Dublin" selected>/);
    expect(page).toMatch(/<option value="IE" selected>Ireland</);
  });

  it("count for the next offer: its currency follows", async () => {
    expect(await (await shop.request("/v1/products/everyday")).json()).toMatchObject({
      currency: { code: "GBP" },
    });
    await press(SHOP, aForm());
    shop.pass(2);
    expect(await (await shop.request("/v1/products/everyday")).json()).toMatchObject({
      currency: { code: "EUR" },
    });
  });

  it("leave out what may be left out", async () => {
    const bare = { vesselG: "", leadDays: "", responsibleName: "", responsibleAddress: "" };
    expect((await press(SHOP, aForm(bare))).status).toBe(303);
    expect(Object.keys(await particulars()).sort()).toEqual(
      ["country", "maker", "scaleStepMg", "timeZone"].sort(),
    );
  });

  it("change the currency by the table of minor units, and not under an order", async () => {
    await press(SHOP, aForm({ currency: "JPY" }));
    expect(await row()).toMatchObject({ currency: "JPY", currencyExponent: 0 });
    await press(SHOP, aForm({ currency: "GBP", revision: "2" }));
    const { token } = await shop.quote();
    await shop.post("/v1/orders", { quote: token });
    const refused = await press(SHOP, aForm({ currency: "JPY", revision: "3" }));
    expect([refused.status, await refused.text()]).toEqual([
      422,
      expect.stringContaining("The shop has orders in GBP"),
    ]);
    const { currency: _, ...without } = aForm({ revision: "3" });
    expect((await press(SHOP, without)).status).toBe(303);
    expect(await row()).toMatchObject({ currency: "GBP", locale: "en-IE" });
  });

  it.each([
    ["no name", { name: "  " }, "Name of the shop"],
    ["a country there is not", { country: "QQ" }, "country of the bench"],
    ["a union as a country", { country: "EU" }, "country of the bench"],
    ["a time zone there is not", { timeZone: "Europe/Atlantis" }, "time zone from the list"],
    ["a bare offset", { timeZone: "+01:00" }, "time zone from the list"],
    ["a language there is not", { locale: "xx-nowhere-at-all" }, "as in en-GB"],
    ["a currency nobody charges", { currency: "XXX" }, "currency that the till can charge"],
    ["a scale in words", { scaleG: "fine" }, "The scale’s step must be a number"],
    ["no scale", { scaleG: "" }, "The scale’s step must be a number"],
    ["a scale that shows nothing", { scaleG: "0" }, "from 0.001 to 100 g"],
    ["a scale finer than a milligram", { scaleG: "0.0005" }, "from 0.001 to 100 g"],
    ["a negative vessel", { vesselG: "-5" }, "The vessel must be a number"],
    ["a vessel beyond counting", { vesselG: "1e999" }, "The vessel must be a number"],
    ["half a day", { leadDays: "2.5" }, "a whole number from 0 to 90 days"],
    ["a name without an address", { responsibleAddress: "" }, "address that goes with the name"],
    ["an address without a name", { responsibleName: "" }, "clear the address as well"],
    ["an endless address", { responsibleAddress: "x".repeat(301) }, "it has 301"],
  ])("are not saved with %s, and nothing typed is lost", async (_, change, sentence) => {
    const answer = await press(SHOP, aForm(change));
    const page = await answer.text();
    expect([answer.status, page]).toEqual([422, expect.stringContaining(sentence)]);
    expect(page).toContain("Quillfen");
    expect(page).toContain('value="2 500,5"'.replace("2 500,5", aForm(change).vesselG));
    expect((await row()).revision).toBe(1);
  });

  it("of two people are saved by the first, and the second is shown both", async () => {
    await press(SHOP, aForm({ leadDays: "3" }));
    const second = await press(SHOP, aForm({ leadDays: "9", name: "Mine" }));
    expect(second.status).toBe(409);
    const page = await second.text();
    expect(page).toContain("Somebody saved while this page was open");
    expect(page).toMatch(/Days from order to parcel: now “<bdi>3<\/bdi>”, you typed “<bdi>9</);
    expect(page).toContain('name="revision" value="2"');
    expect(await particulars()).toMatchObject({ leadDays: 3 });
    expect((await press(SHOP, aForm({ revision: "2", leadDays: "9" }))).status).toBe(303);
    expect((await press(SHOP, aForm({ revision: "nonsense" }))).status).toBe(409);
  });
});

describe("shipping zones", () => {
  it("begin empty, and the page says what they are for", async () => {
    expect(await (await look()).text()).toContain("No zone yet, so no season");
  });

  it("are added, changed, taken out and put back, and survive the other settings", async () => {
    expect((await press(`${SHOP}/zones/new`, aZone())).status).toBe(303);
    const [zone] = (await particulars()).zones!;
    expect(zone).toMatchObject({ name: "At home", monthsCelsius: MONTHS });
    expect(await (await look()).text()).toContain("Warmest in July, 29");
    const at = `${SHOP}/zones/${zone!.id}`;
    expect((await press(at, aZone({ revision: "2", "month-7": "31,5" }))).status).toBe(303);
    expect((await particulars()).zones![0]!.monthsCelsius[6]).toBe(31.5);
    await press(SHOP, aForm({ revision: "3" }));
    expect((await particulars()).zones).toHaveLength(1);
    expect((await press(`${at}/remove`, { revision: "4" })).status).toBe(303);
    expect(await particulars()).toMatchObject({ zones: [], formerZones: [{ name: "At home" }] });
    expect((await look(at)).status).toBe(404);
    expect((await press(`${at}/restore`, { revision: "5" })).status).toBe(303);
    expect((await particulars()).zones![0]!.id).toBe(zone!.id);
    expect((await press(`${at}/restore`, { revision: "6" })).status).toBe(404);
  });

  it.each([
    ["a month missing", { "month-3": "" }, "March must be a number"],
    ["a month in words", { "month-7": "hot" }, "July must be a number"],
    ["a month in Fahrenheit", { "month-7": "86" }, "from -40 to 70 °C"],
    ["no name", { name: "" }, "Give the zone a name"],
  ])("are not saved with %s, and nothing typed is lost", async (_, change, sentence) => {
    const answer = await press(`${SHOP}/zones/new`, aZone(change));
    const page = await answer.text();
    expect([answer.status, page]).toEqual([422, expect.stringContaining(sentence)]);
    expect(page).toContain('value="28.5"');
    expect(await particulars()).not.toHaveProperty("zones");
  });

  it("have names of their own, and are saved over what was read", async () => {
    await press(`${SHOP}/zones/new`, aZone());
    const twin = await press(`${SHOP}/zones/new`, aZone({ revision: "2" }));
    expect([twin.status, await twin.text()]).toEqual([422, expect.stringContaining("already")]);
    const [zone] = (await particulars()).zones!;
    const late = await press(`${SHOP}/zones/${zone!.id}`, aZone({ "month-1": "-3" }));
    expect([late.status, await late.text()]).toEqual([409, expect.stringContaining('value="-3"')]);
    expect((await press(`${SHOP}/zones/${zone!.id}/remove`, { revision: "1" })).status).toBe(409);
    expect((await particulars()).zones![0]!.monthsCelsius).toEqual(MONTHS);
  });
});

describe("what customers are told of changing their mind", () => {
  const offered = async () => {
    shop.pass(2);
    const offer = (await (await shop.request("/v1/products/everyday")).json()) as ProductOffer;
    return offer.withdrawal;
  };

  it("follows from the country until the maker chooses", async () => {
    expect(await offered()).toEqual({ kind: "days", days: 14 });
    await press(SHOP, aForm({ country: "US" }));
    expect(await offered()).toBeUndefined();
  });

  it.each([
    [
      { withdrawal: "days", withdrawalDays: "30" },
      { kind: "days", days: 30 },
    ],
    [{ withdrawal: "made-to-wish" }, { kind: "made-to-wish" }],
    [
      { withdrawal: "own-words", withdrawalWords: "Ask us.\r\nWe are kind." },
      { kind: "own-words", words: "Ask us.\nWe are kind." },
    ],
  ])("is what the maker chose, in the offer and in the settings: %o", async (chosen, told) => {
    expect((await press(SHOP, aForm(chosen as Record<string, string>))).status).toBe(303);
    expect(await offered()).toEqual(told);
    const page = await (await look()).text();
    expect(page).toContain(`<option value="${told.kind}" selected>`);
    expect((await shop.quote()).quote.withdrawal).toEqual(told);
  });

  it.each([
    [{ withdrawal: "days", withdrawalDays: "" }, "whole number from 1 to 365"],
    [{ withdrawal: "days", withdrawalDays: "0" }, "whole number from 1 to 365"],
    [{ withdrawal: "own-words", withdrawalWords: " " }, "Type what customers are to read."],
    [{ withdrawal: "own-words", withdrawalWords: "x".repeat(601) }, "Keep it to 600 characters"],
    [{ withdrawal: "never" }, "Choose one of the answers"],
  ])("is not saved when it is half said: %o", async (chosen, words) => {
    const answer = await press(SHOP, aForm(chosen as Record<string, string>));
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain(words);
    expect((await particulars()).withdrawal).toBeUndefined();
  });
});

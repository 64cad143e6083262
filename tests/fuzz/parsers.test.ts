/**
 * What is read from outside, spoiled where it hurts: blends for the command line, tables, certificates, codes of blends
 * and signed quotes. Each is read, or refused in words; nothing throws anything else, and nothing altered passes.
 */
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { blendCode, openBlendCode } from "#service/actions/blend-code.ts";
import { type Offers, offersOf } from "#service/actions/offer.ts";
import { placeOrder } from "#service/actions/place-order.ts";
import { type CertificateText, NO_CERTIFICATE } from "#service/shelf/certificate.ts";
import { DAY_ORDERS } from "#service/shelf/days.ts";
import { COLUMNS } from "#service/shelf/file-work.ts";
import { writeTable } from "#service/shelf/table.ts";
import { type TestShop, aQuoteRequest, openTestShop } from "../helpers/shop.ts";
import found from "./found-texts.json" with { type: "json" };
import { edits, hostileText, spoiled } from "./hostile.ts";
import { judgesWell, readsCertificate, readsTable, refusalOf } from "./readers.ts";
import { GREAT_RUN_MS, SEED, drawn, runs } from "./runs.ts";

let shop: TestShop;
let offers: Offers;
beforeAll(async () => {
  shop = await openTestShop();
  offers = offersOf(shop.shop);
});
afterAll(() => shop.close());

const figure = fc.oneof(
  fc.constantFrom("27.5", "100", "0", "1e3", "-1", "40,5", "", "99.999"),
  hostileText,
);
const acid = fc.oneof(
  fc.constantFrom("16:0", "C18:1", "SOS", "POP", "20", "35 °C", "18:1", "OOO"),
  hostileText,
);

describe("softset judge", () => {
  const BLENDS = [
    {
      parts: [
        { ingredient: "shea-butter", percent: 60 },
        { ingredient: "jojoba-oil", percent: 40 },
      ],
      celsius: [20, 35],
    },
    {
      parts: [
        {
          name: "lab fat",
          fattyAcids: { "16:0": 26, "18:0": 35, "18:1": 35, "18:2": 4 },
          percent: 100,
        },
      ],
      ...{
        airFraction: 0.35,
        use: { celsius: 21 },
        rules: { poreRatingMost: 2, firmness: ["soft"] },
      },
    },
    {
      parts: [
        { name: "other", triacylglycerols: { POP: 20, POS: 40, SOS: 27, SOO: 13 }, percent: 100 },
      ],
    },
    {
      parts: [
        { ingredient: "cocoa-butter", percent: 50, solidFatCurve: [{ celsius: 20, percent: 75 }] },
        { ingredient: "olive-oil", percent: 50 },
      ],
    },
  ];

  it(
    "judges or says what is wrong, whatever the file holds",
    { timeout: GREAT_RUN_MS },
    async () => {
      const tried = fc.tuple(fc.constantFrom(...BLENDS), edits, fc.nat(30));
      let judged = 0;
      for (const [blend, changes, cut] of drawn(tried, runs(250))) {
        const text = JSON.stringify(spoiled(blend, changes)) ?? "";
        const whole = cut === 0 ? text.slice(0, text.length / 2) : text;
        if (await judgesWell(whole, `seed ${SEED}`)) judged++;
      }
      expect(judged).toBeGreaterThan(10);
    },
  );
});

describe("a table brought in", () => {
  it(
    "is planned row by row, or refused as a whole, in words",
    { timeout: GREAT_RUN_MS },
    async () => {
      const cell = fc.oneof(
        fc.constantFrom("shea-butter", "Shea butter", "5 kg", "12.40", "2026-11-01", "yes"),
        hostileText,
      );
      const tried = fc.record({
        kind: fc.constantFrom("ingredients" as const, "lots" as const),
        rows: fc.array(fc.array(cell, { minLength: 12, maxLength: 12 }), { maxLength: 4 }),
        days: fc.constantFrom(...DAY_ORDERS),
        breaks: fc.array(
          fc.tuple(fc.nat(2000), fc.constantFrom('"', ",", ";", "\t", "\r", "\n", "\ufeff")),
          { maxLength: 3 },
        ),
      });
      for (const { kind, rows, days, breaks } of drawn(tried, runs(250))) {
        const columns = COLUMNS[kind];
        const named = rows.map((cells) =>
          Object.fromEntries(columns.map(({ key }, at) => [key, cells[at] ?? ""])),
        );
        const whole = breaks.reduce(
          (text, [at, sign]) =>
            text.slice(0, at % text.length) + sign + text.slice(at % text.length),
          writeTable(columns, named),
        );
        await readsTable(shop.shop, { kind, text: whole, days }, `seed ${SEED}`);
      }
    },
  );
});

describe("a certificate", () => {
  it("is kept so that it can be read again, or refused in words", { timeout: GREAT_RUN_MS }, () => {
    const line = fc
      .tuple(acid, fc.constantFrom(" ", ": ", "\t", " = ", "", "; "), figure)
      .map((parts) => parts.join(""));
    const table = fc.array(line, { maxLength: 5 }).map((lines) => lines.join("\n"));
    const fields = fc.record(
      Object.fromEntries(
        Object.keys(NO_CERTIFICATE).map((field) => [field, fc.oneof(fc.constant(""), table)]),
      ),
    );
    for (const typed of drawn(fields, runs(400))) {
      readsCertificate(typed as unknown as CertificateText, `seed ${SEED}`);
    }
  });
});

/** A text with some of its characters changed, cut or doubled; never the text itself. */
const altering = fc.record({
  at: fc.nat(5000),
  how: fc.constantFrom("change", "cut", "double", "case", "end"),
  sign: fc.constantFrom(..."AZaz09-_.=+/ \u0000é"),
});

function altered(
  text: string,
  { at, how, sign }: { at: number; how: string; sign: string },
): string {
  const place = at % text.length;
  const [before, here, after] = [text.slice(0, place), text[place]!, text.slice(place + 1)];
  if (how === "change") return before + sign + after;
  if (how === "cut") return before;
  if (how === "double") return before + here + here + after;
  if (how === "case")
    return before + (here === here.toUpperCase() ? here.toLowerCase() : here.toUpperCase()) + after;
  return text + sign;
}

describe("what the shop signed", () => {
  it(
    "a code of a blend opens as it was made, and in no other way",
    { timeout: GREAT_RUN_MS },
    async () => {
      const { product, choice, jar } = aQuoteRequest();
      const { code } = await blendCode(shop.shop, await offers.of(product), { choice, jar });
      expect(await openBlendCode(shop.shop, offers, code)).toMatchObject({ choice, jar });
      const tried = fc.oneof(
        altering.map((how) => altered(code, how)),
        hostileText,
      );
      for (const wrong of drawn(tried, runs(300))) {
        if (wrong === code) continue;
        const is = await refusalOf(openBlendCode(shop.shop, offers, wrong));
        expect(is, `seed ${SEED}: ${wrong.slice(0, 500)}`).toBe("compose.code.altered");
      }
    },
  );

  it("a choice has a code, or a refusal that says why", { timeout: GREAT_RUN_MS }, async () => {
    const { product, choice, jar } = aQuoteRequest();
    const offer = await offers.of(product);
    for (const changes of drawn(edits, runs(150))) {
      const spoilt = { choice: spoiled(choice, changes), jar };
      const asked = await shop.post("/v1/blend-links", { product, ...spoilt });
      expect(asked.status, `seed ${SEED}: ${JSON.stringify(spoilt).slice(0, 1000)}`).toBeLessThan(
        500,
      );
      if (asked.status !== 200) continue;
      const { code } = (await asked.json()) as { code: string };
      expect(await openBlendCode(shop.shop, offers, code)).toMatchObject({
        product: { id: offer.wire.product.id },
      });
    }
  });

  it("a quote places one order, and altered none", { timeout: GREAT_RUN_MS }, async () => {
    const { token } = await shop.quote();
    const tried = fc.oneof(
      altering.map((how) => altered(token, how)),
      hostileText,
    );
    for (const wrong of drawn(tried, runs(300))) {
      if (wrong === token) continue;
      const is = await refusalOf(placeOrder(shop.shop, offers, wrong));
      expect(is, `seed ${SEED}: ${wrong.slice(0, 3000)}`).toBe("order.quote.altered");
    }
    expect((await placeOrder(shop.shop, offers, token)).repeated).toBe(false);
  });
});

describe("what was once found, or is known to trip programs up", () => {
  it.each(found.judge)("$why: judged", async ({ head = "", text, times = 1, tail = "" }) => {
    await judgesWell(head + text.repeat(times) + tail, text);
  });

  it.each(found.table)("$why: in a table", async ({ text, times = 1, tail = "" }) => {
    for (const kind of ["ingredients", "lots"] as const) {
      const whole = text.repeat(times) + tail;
      await readsTable(shop.shop, { kind, text: whole, days: DAY_ORDERS[0]! }, text);
    }
  });

  it.each(found.certificate)("$why: on a certificate", ({ text, times = 1 }) => {
    for (const field of Object.keys(NO_CERTIFICATE)) {
      readsCertificate({ ...NO_CERTIFICATE, [field]: text.repeat(times) }, text);
    }
  });

  it.each(found.signed)("$why: as a code and as a quote", async ({ text, times = 1 }) => {
    const whole = text.repeat(times);
    const refusals = [
      await refusalOf(openBlendCode(shop.shop, offers, whole)),
      await refusalOf(placeOrder(shop.shop, offers, whole)),
    ];
    expect(refusals).toEqual(["compose.code.altered", "order.quote.altered"]);
  });
});

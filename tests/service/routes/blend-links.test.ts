/**
 * The code of a blend: what goes out comes back, a byte altered is refused, and what is gone is said.
 */
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { FORM, readChoice, readHeading, writeChoice } from "#service/actions/blend-bytes.ts";
import { PRODUCT } from "../../helpers/offer.ts";
import { type TestShop, aQuoteRequest, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
beforeAll(async () => {
  shop = await openTestShop();
});
afterAll(() => shop.close());

const { product, choice, jar } = aQuoteRequest();
const asked = { product, choice, jar };

async function codeOf(body: unknown = asked): Promise<string> {
  const answer = await shop.post("/v1/blend-links", body);
  expect(answer.status).toBe(200);
  return ((await answer.json()) as { code: string }).code;
}

async function open(code: string) {
  const answer = await shop.request(`/v1/blend-links/${code}`);
  const body = (await answer.json()) as Record<string, unknown>;
  return { status: answer.status, body, code: body["code"] };
}

describe("the code of a blend", () => {
  it("opens as what it was made of", async () => {
    const { status, body } = await open(await codeOf());
    expect(status).toBe(200);
    expect(body).toEqual({
      product: { id: product, name: expect.any(String) },
      version: 1,
      choice,
      jar,
    });
  });

  it("is short enough for a link, and of letters that any address bears", async () => {
    const code = await codeOf();
    expect(code).toMatch(/^[\w-]+$/);
    expect(code.length).toBeLessThanOrEqual(60);
  });

  it("is the same for the same blend, and told of by no other", async () => {
    const other = { ...asked, jar: "jar-60" };
    expect(await codeOf()).toBe(await codeOf());
    expect(await codeOf(other)).not.toBe(await codeOf());
  });

  it("is refused when any one character is another, is missing, or comes too often", async () => {
    const code = await codeOf();
    const letters = [..."ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"];
    for (const at of code.split("").keys()) {
      const [before, after] = [code.slice(0, at), code.slice(at + 1)];
      const others = letters.filter((letter) => letter !== code[at]);
      // The last has bits that say nothing, so there every letter is tried.
      const tried = at === code.length - 1 ? others : [others[at % others.length]!];
      const altered = [...tried.map((letter) => before + letter + after), before + after];
      for (const each of [...altered, `${before}${code[at]}${code[at]}${after}`]) {
        if (each === code) continue;
        expect(await shop.shop.seals.openBlend(each), each).toBeUndefined();
      }
    }
    expect(await open(`${code}A`)).toMatchObject({ status: 400, code: "compose.code.altered" });
    expect(await open("%20")).toMatchObject({ status: 400, code: "compose.code.altered" });
  });

  it("of another shop is refused", async () => {
    const other = await openTestShop();
    const answer = await other.request(`/v1/blend-links/${await codeOf()}`);
    other.close();
    expect(answer.status).toBe(400);
  });

  it("is not the token of an order, though one key makes both", async () => {
    const token = await shop.shop.seals.orderToken("an-order");
    const bytes = new TextEncoder().encode("an-order");
    expect((await shop.shop.seals.sealBlend(bytes)).endsWith(token)).toBe(false);
  });

  it("of an older form is known for what it is", async () => {
    const bytes = (await shop.shop.seals.openBlend(await codeOf()))!;
    const older = await shop.shop.seals.sealBlend(new Uint8Array([FORM - 1, ...bytes.slice(1)]));
    expect(await open(older)).toMatchObject({ status: 410, code: "compose.code.outdated" });
  });

  it("that is cut short before it was sealed is refused", async () => {
    const bytes = (await shop.shop.seals.openBlend(await codeOf()))!;
    for (const length of bytes.keys()) {
      const short = await shop.shop.seals.sealBlend(bytes.slice(0, length));
      expect((await open(short)).status, `${length} bytes`).toBeGreaterThanOrEqual(400);
    }
    const long = await shop.shop.seals.sealBlend(new Uint8Array([...bytes, 1]));
    expect(await open(long)).toMatchObject({ code: "compose.code.altered" });
  });

  it.each([
    ["a product nobody sells", { product: "x" }, 404, "compose.product.unknown"],
    ["a jar nobody fills", { jar: "x" }, 422, "compose.choice.refused"],
    ["a base nobody knows", { choice: { ...choice, base: "x" } }, 422, "compose.choice.refused"],
    ["no butters", { choice: { ...choice, butters: [] } }, 422, "compose.choice.refused"],
    ["a part of a share", { choice: halved() }, 422, "compose.choice.refused"],
    ["more than is asked", { note: "x" }, 422, "request.body.invalid"],
  ])("is not made of %s", async (_, change, status, code) => {
    const answer = await shop.post("/v1/blend-links", { ...asked, ...change });
    expect(answer.status).toBe(status);
    expect(await answer.json()).toMatchObject({ code });
  });

  function halved() {
    const [first, ...others] = choice.butters;
    return { ...choice, butters: [{ ...first!, share: first!.share + 0.5 }, ...others] };
  }
});

describe("the bytes of a choice", () => {
  const share = fc.integer({ min: 0, max: 10_000 });
  const chosen = fc.constantFrom(...PRODUCT.bases).chain((base) =>
    fc.record({
      jar: fc.constantFrom(...PRODUCT.jars.map(({ id }) => id)),
      choice: fc.record({
        base: fc.constant(base.id),
        butters: fc.tuple(
          ...base.butters.map(({ ingredient }) =>
            fc.record({ ingredient: fc.constant(ingredient), share }),
          ),
        ),
        oils: fc.tuple(
          ...base.oils.map(({ place }) =>
            fc.record({
              place: fc.constant(place),
              ingredient: fc.constantFrom(
                ...PRODUCT.places.find(({ id }) => id === place)!.allowed,
              ),
              share,
            }),
          ),
        ),
      }),
    }),
  );

  it("come back as they went, whatever the shares, oils and version", () => {
    fc.assert(
      fc.property(chosen, fc.nat(), (each, version) => {
        const heading = readHeading(writeChoice(PRODUCT, version, each))!;
        expect(heading).toMatchObject({ form: FORM, product: PRODUCT.id, version });
        expect(readChoice(PRODUCT, heading.rest)).toEqual(each);
      }),
    );
  });

  it("of any kind are read without a fault", () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 60 }), (bytes) => {
        const heading = readHeading(bytes);
        if (heading) readChoice(PRODUCT, heading.rest);
      }),
    );
  });
});

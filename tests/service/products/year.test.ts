/**
 * The year of a base: months in which nothing of it stands the parcel, against judging every month for itself.
 */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Product } from "#core/compose/product.ts";
import { startingChoice } from "#core/compose/product.ts";
import { nearestOrderable } from "#core/order/nearest/nearest.ts";
import { MONTHS } from "#service/days.ts";
import { type Desk, desksOf } from "#service/products/desk.ts";
import { inSeason, judgeBase } from "#service/products/judge-base.ts";
import { rulesAt } from "#service/products/season.ts";
import {
  type ShutMonths,
  midMonth,
  ownShut,
  sayOwnShut,
  sayShut,
  shutKey,
  yearShut,
} from "#service/products/year.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
let desk: Desk;
let everyday: Product;
beforeEach(async () => {
  shop = await openTestShop();
  desk = await desksOf(shop.shop)((await shop.shop.shops.byId("quillfen"))!);
  everyday = (await shop.shop.drafts.read("quillfen", "everyday"))!.document.product;
});
afterEach(() => shop.close());

const withMargin = (parcelMarginCelsius: number): Product => ({ ...everyday, parcelMarginCelsius });
const zones = () => desk.particulars.zones!;

/** Every zone and month by itself, as slowly as can be. */
function listed(isShut: (base: Product["bases"][number], month: number, zone: string) => boolean) {
  return everyday.bases.flatMap((base) =>
    zones().flatMap(({ id, name }) =>
      MONTHS.flatMap((_, month) =>
        isShut(base, month, id) ? [`${base.id} ${name} ${month}`] : [],
      ),
    ),
  );
}

const flat = (lines: readonly ShutMonths[]) =>
  lines
    .flatMap(({ base, zones: names, months }) =>
      names.flatMap((name) => months.map((month) => `${base} ${name} ${month}`)),
    )
    .sort();

describe("the year of a product", () => {
  it.each([0, 1, 3, 8])("agrees with a search for every month, %i °C over the parcel", (margin) => {
    const product = withMargin(margin);
    const shut = yearShut(product, desk);
    const slow = listed((base, month, zone) => {
      const rules = rulesAt(product, desk.particulars, midMonth(month), zone);
      const found = nearestOrderable({ ...product, rules }, startingChoice(base), desk);
      return found.kind !== "found";
    });
    expect(flat(shut)).toEqual(slow.sort());
  });

  it.each([0, 1, 3, 8])("tells the written blend apart, %i °C over the parcel", (margin) => {
    const product = withMargin(margin);
    const shut = yearShut(product, desk);
    const own = ownShut(product, desk, shut);
    const slow = listed((base, month, zone) => {
      const rules = rulesAt(product, desk.particulars, midMonth(month), zone);
      const written = { ...product, rules, parcelMarginCelsius: 0 };
      const noZones = { ...desk, particulars: { ...desk.particulars, zones: [] } };
      expect(inSeason(written, noZones, "2000-01-01").rules).toEqual(rules);
      const judged = judgeBase(written, base, noZones, "2000-01-01");
      return !("judgement" in judged) || judged.judgement.verdict !== "orderable";
    });
    expect(flat([...own, ...shut])).toEqual(slow.sort());
  });

  it("says months and zones in words", () => {
    const line = { base: "soft-shea", name: "Soft shea", zones: ["Down south"], months: [6, 7] };
    expect(sayShut(line)).toBe(
      "In July and August no blend of Soft shea stands a parcel to “Down south”.",
    );
    expect(sayOwnShut({ ...line, zones: ["A", "B"], months: [5] })).toBe(
      "In June Soft shea as you wrote it does not stand a parcel to “A” and “B”: customers must move it first.",
    );
    expect(sayShut({ ...line, months: [0, 4, 5, 6, 7, 11] })).toMatch(
      /^In January, May to August and December no blend/,
    );
    expect(sayShut({ ...line, months: MONTHS.map((_, month) => month) })).toMatch(
      /^In every month/,
    );
    expect(shutKey([line])).not.toBe(shutKey([{ ...line, months: [6] }]));
    expect(shutKey([])).toBe("");
  });

  it("finds nothing without a margin or without zones", () => {
    expect(yearShut(everyday, desk)).toEqual([]);
    const bare = { ...desk, particulars: { ...desk.particulars, zones: [] } };
    expect(yearShut(withMargin(3), bare)).toEqual([]);
  });
});

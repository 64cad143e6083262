/**
 * The page of fallen margins: what earns too little, why, and what to do.
 */
import { helpers } from "../documents/helpers.ts";
import type { PackCost } from "#core/price/policy.ts";
import { divideHalfUp } from "#core/price/money.ts";
import type { FallenMargin, MarginReport, Unsold } from "../prices/fallen-margins.ts";
import { tenths } from "../prices/trial-words.ts";
import { type Desk, nameOf } from "../products/desk.ts";

/** Bases shown at once. */
const BASES_A_PAGE = 50;

/** Costs named for one base; the rest are counted. */
const RISES_MOST = 3;

/**
 * The page.
 * @param from how many bases the pages before showed
 */
export function pricesPage(report: MarginReport, desk: Desk, from: number) {
  const bases = byBase(report.fallen);
  const shown = bases.slice(from, from + BASES_A_PAGE);
  const next = from + BASES_A_PAGE;
  return {
    title: "Margins that have fallen",
    headline: headline(bases.length, report),
    bases: shown.map((jars) => baseModel(jars, desk)),
    unsold:
      from === 0 ? report.unsold.slice(0, BASES_A_PAGE).map((each) => saidOf(each, desk)) : [],
    unsoldMore: Math.max(0, report.unsold.length - BASES_A_PAGE),
    unrecorded: unrecordedWords(report.unrecorded),
    nothingSold: report.looked === 0 && report.unsold.length === 0,
    next: next < bases.length ? String(next) : "",
    before: from > 0 ? String(Math.max(0, from - BASES_A_PAGE)) : "",
  };
}

/** Jars of the same base together, in the order of the worst of each. */
function byBase(fallen: readonly FallenMargin[]): FallenMargin[][] {
  const groups = new Map<string, FallenMargin[]>();
  for (const each of fallen) {
    const key = `${each.product.id} ${each.base.id}`;
    const group = groups.get(key);
    if (group) group.push(each);
    else groups.set(key, [each]);
  }
  return [...groups.values()];
}

function headline(count: number, { unsold }: MarginReport): string {
  const bases = count === 1 ? "1 base earns" : `${count} bases earn`;
  if (count > 0) return `${bases} less than you asked for`;
  return unsold.length > 0 ? "Some jars cannot be sold" : "Every margin holds";
}

function baseModel(jars: readonly FallenMargin[], desk: Desk) {
  const worst = jars[0]!;
  const money = moneyIn(desk);
  const percent = (share: number) => `${tenths(share)}\u00a0%`;
  return {
    title: `${worst.product.name}, ${worst.base.name}`,
    href: `/maker/products/${worst.product.id}/price`,
    why: whySentences(worst, desk),
    what: adviceOf(worst),
    jars: jars.map(({ jar, jarMinor, marginShare, askedShare, publishedShare, wouldMinor }) => ({
      name: `${jar.name} ${jar.fillG}\u00a0g`,
      price: money(jarMinor),
      earns: percent(marginShare),
      loss: marginShare < 0,
      asked: percent(askedShare),
      published: publishedShare === undefined ? "not recorded" : percent(publishedShare),
      would: wouldMinor === undefined ? "above your greatest" : money(wouldMinor),
    })),
  };
}

function whySentences({ rises, at }: FallenMargin, desk: Desk): string[] {
  const by = at === "pack" ? "the pack price on your shelf" : "the newest lot";
  if (rises.length === 0) {
    return ["No cost rose: the price stands on its rounding step or its least price."];
  }
  const sentences = rises.slice(0, RISES_MOST).map(({ ingredient, from, to }) => {
    const name = nameOf(desk, ingredient);
    return `${name} rose from ${perKg(from, desk)} to ${perKg(to, desk)} a kg, by ${by}.`;
  });
  const more = rises.length - RISES_MOST;
  return more > 0 ? [...sentences, `${more} more cost more, too.`] : sentences;
}

function adviceOf({ at, wouldMinor, jarMinor }: FallenMargin): string {
  if (wouldMinor === undefined) {
    return "At these costs the policy asks more than your greatest price: raise it, or make the blend cheaper.";
  }
  if (wouldMinor === jarMinor) {
    return "The policy would ask the same price again. Nothing to do, unless you want a finer rounding step.";
  }
  return at === "pack"
    ? "Price it from the pack, or correct the pack’s price on your shelf if you no longer pay that."
    : "Write what you paid as the pack’s price on your shelf, and the price follows; or price it from the dearest lot.";
}

function saidOf(unsold: Unsold, desk: Desk) {
  const { product, because } = unsold;
  const href = `/maker/products/${product.id}/price`;
  if (because === "cost-missing") {
    const name = nameOf(desk, unsold.ingredient);
    const why = `${name} has no price on your shelf, so nothing of this product can be sold.`;
    return { title: product.name, why, href: "/maker/shelf", act: "Open the shelf" };
  }
  const title = `${product.name}, ${unsold.base.name}, ${unsold.jar.name}`;
  const why = {
    "above-most": "It now comes dearer than your greatest price, so it is not sold.",
    "not-a-blend": "The base no longer makes a blend. Open the product and publish it anew.",
    policy: "The price policy gives no price. Open it and save it again.",
  }[because];
  return { title, why, href, act: "Open its prices" };
}

function unrecordedWords(count: number): string {
  if (count === 0) return "";
  const versions = count === 1 ? "1 product was" : `${count} products were`;
  return `${versions} published before prices were recorded, so a fall since then cannot be told; the policy’s margin is held against today’s costs all the same.`;
}

function perKg({ packMinor, packMg }: PackCost, desk: Desk): string {
  return moneyIn(desk)(Number(divideHalfUp(BigInt(packMinor) * 1_000_000n, BigInt(packMg))));
}

function moneyIn({ shop }: Desk): (minor: number) => string {
  const currency = { code: shop.currency, exponent: shop.currencyExponent };
  return (minor) => helpers.money(minor, currency, shop.locale);
}

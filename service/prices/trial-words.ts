/**
 * A trial of a policy in words and measures, the same whether the service or the page script writes them down.
 */
import * as figures from "../documents/figures.ts";
import { plainPercent } from "../typed/read-money.ts";
import type { ShareName, Trial, TrialGround, TrialLine } from "./what-if.ts";

const SHARE_WORDS: Readonly<Record<ShareName, string>> = {
  material: "Material",
  jar: "Jar and label",
  labour: "Labour",
  overhead: "Overheads",
  profit: "You keep",
  tax: "Tax",
};

const LINE_WORDS: Readonly<Record<TrialLine["what"], string>> = {
  material: "Material",
  jar: "Jar and lid",
  label: "Label and carton",
  labour: "Labour",
  overhead: "Overheads",
  profit: "Profit",
  least: "Up to your least price",
  rounding: "Rounding to the step",
  tax: "Tax",
};

/** A part of the bar narrower than this has no room for its number [% of the price] */
const NUMBER_LEAST_PERCENT = 5;

export interface BarPart {
  /** Class and number that tell it apart; both stand in the table too. */
  readonly name: ShareName;
  readonly number: number;
  readonly words: string;
  readonly amount: string;
  /** Of the price, "23.4 %" */
  readonly percent: string;
  /** Place and width in the bar, "12.34%" */
  readonly x: string;
  readonly width: string;
  /** Where its number stands; empty when it is too narrow for one. */
  readonly middle: string;
}

export interface TrialWords {
  /** "£9.40 a jar · costs £4.65 · margin 33.6 %" */
  readonly short: string;
  readonly figures: readonly { readonly what: string; readonly figure: string }[];
  readonly notes: readonly string[];
  /** The bar in one sentence, for who cannot see it. */
  readonly told: string;
  readonly bar: readonly BarPart[];
  readonly lines: readonly {
    readonly name: ShareName;
    /** Of its part of the bar; empty when it has none, being nothing. */
    readonly number: number | "";
    readonly what: string;
    readonly amount: string;
    readonly percent: string;
  }[];
  readonly total: string;
}

/** Put a trial into words. */
export function trialWords(trial: Trial, { currency, locale }: TrialGround): TrialWords {
  const money = (minor: number) =>
    minor < 0
      ? `\u2212${figures.money(-minor, currency, locale)}`
      : figures.money(minor, currency, locale);
  const part = (minor: number) => `${((100 * minor) / trial.jarMinor || 0).toFixed(1)}\u00a0%`;
  const margin =
    trial.marginShare === undefined ? "cannot be told" : `${tenths(trial.marginShare)}\u00a0%`;
  const price = money(trial.jarMinor);
  const cost = money(trial.costMinor);
  const bar = barOf(trial, money, part);
  const numberOf = (name: ShareName) => bar.find((each) => each.name === name)?.number ?? "";
  return {
    short: `${price} a jar · costs you ${cost} · margin ${margin}`,
    figures: [
      { what: "Price of a jar", figure: price },
      { what: "Per 100\u00a0g", figure: money(trial.per100gMinor) },
      ...(trial.paidMinor === trial.jarMinor
        ? []
        : [{ what: "A customer pays, with tax", figure: money(trial.paidMinor) }]),
      { what: "Costs you", figure: cost },
      { what: "You keep", figure: money(trial.keptMinor) },
      { what: "Margin before tax", figure: margin },
    ],
    notes: trial.notes,
    told: bar.map(({ words, percent }) => `${words} ${percent}`).join(", "),
    bar,
    lines: trial.lines.map(({ what, of, name, minor }) => ({
      name: of,
      number: numberOf(of),
      what: name || LINE_WORDS[what],
      amount: money(minor),
      percent: part(minor),
    })),
    total: price,
  };
}

function barOf(
  { shares }: Trial,
  money: (minor: number) => string,
  part: (minor: number) => string,
): BarPart[] {
  const whole = shares.reduce((sum, { minor }) => sum + minor, 0);
  let before = 0;
  return shares.map(({ name, minor }, at) => {
    const [x, width] = [(100 * before) / whole, (100 * minor) / whole];
    before += minor;
    return {
      name,
      number: at + 1,
      words: SHARE_WORDS[name],
      amount: money(minor),
      percent: part(minor),
      x: `${x.toFixed(2)}%`,
      width: `${width.toFixed(2)}%`,
      middle: width < NUMBER_LEAST_PERCENT ? "" : `${(x + width / 2).toFixed(2)}%`,
    };
  });
}

/** A share in tenths of a percent, rounded down, below 0 with a true minus. */
export function tenths(share: number): string {
  const down = Math.floor(share / 10) * 10;
  const digits = plainPercent(Math.abs(down));
  return `${down < 0 ? "\u2212" : ""}${digits.includes(".") ? digits : `${digits}.0`}`;
}

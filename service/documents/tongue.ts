/**
 * How a paper of the bench speaks: words, figures, days and names in one language. The page and the PDF of a paper are
 * made from what is said here, so that both say the same.
 */
import type { Caution } from "#core/make/cautions.ts";
import type { Said, SaidFigures } from "#core/make/said.ts";
import { BLANKS, type Range, type Step } from "#core/make/steps.ts";
import { nameFamily } from "#core/words/words.ts";
import { sayIn, speechIn } from "../words/speak.ts";
import { listFormat, numberFormat } from "./formats.ts";

const NO_BREAK = "\u00a0";
const MINUTES_PER_HOUR = 60;

/** What an ingredient is called on this paper, by its id. */
export type NameOf = (id: string) => string;

export type Tongue = ReturnType<typeof tongueOf>;

/** @param locale BCP 47 tag of the bench */
export function tongueOf(locale: string) {
  const plain = numberFormat(locale, { maximumFractionDigits: 2, useGrouping: false });
  const withDecimals = (decimals: number) =>
    numberFormat(locale, {
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
      useGrouping: false,
    });
  const hundredths = withDecimals(2);
  const sign = plain.formatToParts(0.5).find(({ type }) => type === "decimal")?.value ?? ".";
  const say = (message: string, figures?: Readonly<Record<string, unknown>>) =>
    sayIn(locale, message, figures);
  const number = (value: number) => plain.format(value);
  const range = ({ least, greatest }: Range, unit: string): string => {
    const figures = {
      least: least === undefined ? "" : number(least),
      greatest: greatest === undefined ? "" : number(greatest),
    };
    if (least === undefined && greatest === undefined) throw new TypeError("an empty range");
    const words =
      least === undefined
        ? say("sheet.below", figures)
        : greatest === undefined
          ? say("sheet.from", figures)
          : least === greatest
            ? figures.least
            : say("sheet.range", figures);
    return `${words}${NO_BREAK}${unit}`;
  };
  return {
    locale,
    say,
    number,
    range,
    /** Always so many decimals. */
    tenths: (value: number) => withDecimals(1).format(value),
    hundredths: (value: number) => hundredths.format(value),
    thousandths: (value: number) => withDecimals(3).format(value),
    /** Digits as the scale shows them, with the decimal sign of the language: none is dropped and none is added. */
    digits: (text: string) => text.replace(".", sign),
    /** "12,34 %" from hundredths of a percent, always with two decimals. */
    percent: (share: number) => `${hundredths.format(share / 100)}${NO_BREAK}%`,
    /** Whole degrees, rounded down, because a limit of warmth is never rounded up. */
    celsius: (value: number) => `${number(Math.floor(value))}${NO_BREAK}°C`,
    celsiusRange: (celsius: Range) => range(celsius, "°C"),
    /** In hours from two of them on. */
    minutesRange: (minutes: Range) => {
      const least = minutes.least ?? minutes.greatest ?? 0;
      return least >= 2 * MINUTES_PER_HOUR ? range(inHours(minutes), "h") : range(minutes, "min");
    },
    list: (names: readonly string[]) => listFormat(locale).format(names),
    family: (family: string) => nameFamily(family, speechIn(locale)),
  };
}

function inHours({ least, greatest }: Range): Range {
  return {
    ...(least === undefined ? {} : { least: least / MINUTES_PER_HOUR }),
    ...(greatest === undefined ? {} : { greatest: greatest / MINUTES_PER_HOUR }),
  };
}

/** A caution in words. */
export function sayCaution(tongue: Tongue, nameOf: NameOf, caution: Caution): string {
  return sayOne(tongue, nameOf, "caution", caution);
}

/** A step as it stands on a paper. @param days after which the jar is judged */
export function sayStep(tongue: Tongue, nameOf: NameOf, step: Step, days: number) {
  const { say, celsiusRange, minutesRange } = tongue;
  const { id, celsius, minutes } = step;
  const title = say(`step.${id}`, { days });
  const time = minutes ? `, ${minutesRange(minutes)}` : "";
  const mark = celsius && `${celsiusRange(celsius)}${time}`;
  return {
    /** With temperature and time, where there are any. */
    title: mark === undefined ? title : say("layout.fact", { term: title, value: mark }),
    words: step.sentences.map((each) => sayOne(tongue, nameOf, "step", each)).join(" "),
    blanks: BLANKS[id].map(({ id: blank, unit }) => ({ label: say(`step.blank-${blank}`), unit })),
    cautions: step.cautions.map((each) => sayCaution(tongue, nameOf, each)),
  };
}

function sayOne(tongue: Tongue, nameOf: NameOf, chapter: string, said: Said): string {
  return (
    said.words ?? tongue.say(`${chapter}.${said.code}`, figuresIn(tongue, nameOf, said.figures))
  );
}

/** Every figure as its readers write it. */
function figuresIn(tongue: Tongue, nameOf: NameOf, figures: SaidFigures): Record<string, string> {
  const { say, number } = tongue;
  const { ingredients, families, firmness, lowest, highest, densityGPerMl, ...numbers } = figures;
  const namesOf = (ids: readonly string[]) => ids.map(nameOf);
  const words: Record<string, string> = {};
  for (const [key, value] of Object.entries(numbers)) words[key] = number(value);
  for (const [key, value] of Object.entries({ firmness, lowest, highest })) {
    if (value !== undefined) words[key] = say(`firmness.${value}`);
  }
  if (densityGPerMl !== undefined) words.densityGPerMl = tongue.hundredths(densityGPerMl);
  if (ingredients) words.ingredients = tongue.list(namesOf(ingredients));
  if (families) {
    const held = families.map(({ family, ingredients: ids }) =>
      say("layout.fact", { term: tongue.family(family), value: namesOf(ids).join(", ") }),
    );
    words.families = held.join(say("sheet.semicolon"));
  }
  return words;
}

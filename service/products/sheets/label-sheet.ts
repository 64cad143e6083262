/**
 * What the labels of this product say beside its blend; what is left empty is said as it is for the whole shop.
 */
import { type LabelFacts, MONTHS_FROM } from "#core/compose/product.ts";
import { hasMonths } from "#core/make/label-facts.ts";
import { LABEL_LANGUAGES, LABEL_WORDS, type LabelLanguage } from "#data/library/label-words.ts";
import { LabelFactsShape, MONTHS_MOST, languagesOf } from "../../documents/label-settings.ts";
import { textOf } from "../../typed/text.ts";
import { countWords } from "../../words/count-words.ts";
import type { Desk } from "../desk.ts";
import type { ProductDraft } from "../draft-shape.ts";
import { checkLength, readNumber } from "../fields.ts";
import type { Fault } from "../../typed/fault.ts";
import { MONTHS_FROM_WORDS, labelNotes, settingsOn } from "../label-notes.ts";
import { type SheetForm, outcome } from "./sheet-form.ts";

const PURPOSE_MOST = 80;
const PRECAUTIONS_MOST = 300;
const MONTHS = { least: 1, greatest: MONTHS_MOST, unit: "months", decimals: 0 } as const;

/** By language; a language that was not on the page is missing and stays as it is. */
type Texts = Readonly<Partial<Record<LabelLanguage, string>>>;

interface Typed {
  readonly purpose: Texts;
  readonly precautions: Texts;
  readonly shelfLife: string;
  readonly open: string;
  readonly monthsFrom: string;
}

export const LABEL_SHEET: SheetForm<Typed> = {
  sheet: "label",
  page: "maker-product-label",
  write: ({ product: { label = {} } }) => ({
    purpose: label.purpose ?? {},
    precautions: label.precautions ?? {},
    shelfLife: String(label.shelfLifeMonths ?? ""),
    open: String(label.openMonths ?? ""),
    monthsFrom: label.monthsFrom ?? "",
  }),
  read: (form) => ({
    purpose: textsIn(form, "purpose"),
    precautions: textsIn(form, "precautions"),
    shelfLife: textOf(form, "shelfLife"),
    open: textOf(form, "open"),
    monthsFrom: textOf(form, "monthsFrom"),
  }),
  apply(typed, draft) {
    const faults: Fault[] = [];
    const { label: before = {}, ...product } = draft.product;
    const purpose = writtenOf({ ...before.purpose, ...typed.purpose });
    const precautions = writtenOf({ ...before.precautions, ...typed.precautions });
    const label: LabelFacts = {
      ...(purpose ? { purpose } : {}),
      ...(precautions ? { precautions } : {}),
      ...readMonths(typed, faults),
    };
    checkTexts(typed, faults);
    const facts = Object.keys(label).length > 0 ? { label } : {};
    return outcome(faults, () => ({ ...draft, product: { ...product, ...facts } }));
  },
  model: (typed, draft, desk) => ({
    ...typed,
    languages: languagesOf(settingsOn(desk)).map((language) => fieldsIn(language, typed)),
    ...shopSays(desk),
    froms: [
      { value: "", words: "not said yet", chosen: typed.monthsFrom === "" },
      ...MONTHS_FROM.map((value) => ({
        ...{ value, words: MONTHS_FROM_WORDS[value], chosen: value === typed.monthsFrom },
      })),
    ],
    notes: notesOn(typed, draft, desk),
  }),
};

function textsIn(form: FormData, field: string): Texts {
  const shown = LABEL_LANGUAGES.filter((language) => form.has(`${field}-${language}`));
  return Object.fromEntries(
    shown.map((language) => [
      language,
      textOf(form, `${field}-${language}`).replaceAll(/\s*\n\s*/g, " "),
    ]),
  );
}

/** The texts that are not empty; nothing when none is left. */
function writtenOf(texts: Readonly<Partial<Record<string, string>>>) {
  const written = Object.entries(texts).filter(([, text]) => text);
  return written.length > 0 ? Object.fromEntries(written) : undefined;
}

function checkTexts({ purpose, precautions }: Typed, faults: Fault[]): void {
  for (const language of LABEL_LANGUAGES) {
    const inLanguage = `in ${LABEL_WORDS[language].languageName}`;
    const check = (field: string, text = "", most: number, what: string) =>
      checkLength(
        text,
        most,
        { field: `${field}-${language}`, what: `${what} ${inLanguage}` },
        faults,
      );
    check("purpose", purpose[language], PURPOSE_MOST, "What it is for");
    check("precautions", precautions[language], PRECAUTIONS_MOST, "The precautions");
  }
}

/** Nobody has months without saying how they are known: that is what they are worth on a label. */
function readMonths({ shelfLife, open, monthsFrom }: Typed, faults: Fault[]): LabelFacts {
  const figure = (field: "shelfLife" | "open", typed: string, what: string) =>
    typed === "" ? undefined : readNumber(typed, { field, what }, MONTHS, faults);
  const shelfLifeMonths = figure("shelfLife", shelfLife, "How long a closed jar lasts");
  const openMonths = figure("open", open, "How long an opened jar lasts");
  const months = {
    ...(shelfLifeMonths === undefined ? {} : { shelfLifeMonths }),
    ...(openMonths === undefined ? {} : { openMonths }),
  };
  if (!hasMonths(months)) return {};
  const read = LabelFactsShape.safeParse({ monthsFrom });
  if (read.success) return { ...months, ...read.data };
  const sentence = "Say how you know the months, or empty them: nothing here works them out.";
  faults.push({ field: "monthsFrom", sentence });
  return months;
}

function fieldsIn(language: LabelLanguage, { purpose, precautions }: Typed) {
  const words = LABEL_WORDS[language];
  return {
    id: language,
    language: words.languageName,
    purpose: purpose[language] ?? "",
    usual: words.purpose,
    precautions: precautions[language] ?? "",
  };
}

/** What is printed where a field is left empty. */
function shopSays(desk: Desk) {
  const { shelfLifeMonths, openMonths, precautions } = settingsOn(desk);
  const months = (count: number | undefined) =>
    count === undefined
      ? "Left empty, the shop’s counts, which is not said yet."
      : `Left empty, the shop’s counts: ${countWords(count, "month")}.`;
  return {
    shopClosed: months(shelfLifeMonths),
    shopOpened: months(openMonths),
    shopPrecautions: precautions ?? "",
  };
}

/** What labels would still lack, as typed where it can be read. */
function notesOn(typed: Typed, draft: ProductDraft, desk: Desk): string[] {
  const applied = LABEL_SHEET.apply(typed, draft, desk);
  return labelNotes(("draft" in applied ? applied.draft : draft).product, desk);
}

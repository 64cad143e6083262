/**
 * The form of the label settings: fields in, settings or sentences out. What was typed is never lost.
 */
import { CARRIES, type Carries } from "#core/make/label-carries.ts";
import { LABEL_MARKETS } from "#data/library/label-markets.ts";
import { LABEL_LANGUAGES, LABEL_WORDS } from "#data/library/label-words.ts";
import {
  type LabelSettings,
  MONTHS_MOST,
  type MarketSettings,
  SIDE_MM,
  SIZES_MOST,
} from "../documents/label-settings.ts";
import { type Fault, faultOf } from "../typed/fault.ts";
import { lengthFault } from "../typed/length.ts";
import { NAME_ASKED, readName, textOf, textsOf } from "../typed/text.ts";
import { readFigure, writeFigure } from "./maker-shop-figures.ts";
import type { PartSays } from "./maker-shop-part.ts";

export interface MarketFields {
  readonly isSold: boolean;
  readonly languages: readonly string[];
  readonly person: string;
  readonly address: string;
}

export interface SizeFields {
  readonly id: string;
  readonly name: string;
  readonly width: string;
  readonly height: string;
  readonly carries: string;
  readonly panel: string;
}

export interface LabelFields {
  /** One for each market there is, in its order. */
  readonly markets: readonly MarketFields[];
  readonly sizes: readonly SizeFields[];
  readonly shelfLife: string;
  readonly open: string;
  readonly contact: string;
  readonly precautions: string;
}

const EMPTY: SizeFields = { id: "", name: "", width: "", height: "", carries: "all", panel: "" };
const PLACES = Array.from({ length: SIZES_MOST }, (_, at) => at);
const TEXT_LONGEST = 300;

const CARRIES_WORDS: Readonly<Record<Carries, string>> = {
  all: "Everything",
  front: "The front: name, what it is, content",
  back: "The back: everything else",
  "without-list": "Everything but the ingredients, which a carton or leaflet carries",
  list: "A leaflet: ingredients and precautions",
};

/** Settings as the form shows them. */
export function fieldsOfLabel(settings: LabelSettings): LabelFields {
  const figure = (value: number | undefined) => (value === undefined ? "" : writeFigure(value));
  return {
    markets: LABEL_MARKETS.map(({ id }) => {
      const kept = settings.markets.find((each) => each.id === id);
      const { name: person = "", address = "" } = kept?.responsible ?? {};
      return { isSold: kept !== undefined, languages: kept?.languages ?? [], person, address };
    }),
    sizes: PLACES.map((at) => {
      const size = settings.sizes[at];
      if (!size) return EMPTY;
      const { id, name, carries } = size;
      const [width, height] = [figure(size.widthMm), figure(size.heightMm)];
      return { id, name, carries, width, height, panel: figure(size.panelCm2) };
    }),
    shelfLife: figure(settings.shelfLifeMonths),
    open: figure(settings.openMonths),
    contact: settings.contact ?? "",
    precautions: settings.precautions ?? "",
  };
}

/** The form as it was typed. */
export function typedLabel(form: FormData): LabelFields {
  return {
    markets: LABEL_MARKETS.map(({ id }) => ({
      isSold: form.has(`market-${id}`),
      languages: textsOf(form, `language-${id}`),
      person: textOf(form, `person-${id}`),
      address: textOf(form, `address-${id}`),
    })),
    sizes: PLACES.map((at) => ({
      id: textOf(form, `id-${at}`),
      name: textOf(form, `name-${at}`),
      width: textOf(form, `width-${at}`),
      height: textOf(form, `height-${at}`),
      carries: textOf(form, `carries-${at}`),
      panel: textOf(form, `panel-${at}`),
    })),
    shelfLife: textOf(form, "shelfLife"),
    open: textOf(form, "open"),
    contact: textOf(form, "contact"),
    precautions: textOf(form, "precautions"),
  };
}

/**
 * Read the form.
 * @param newId draws the id of a new size
 */
export function readLabel(
  fields: LabelFields,
  newId: () => string,
): { readonly settings: LabelSettings } | { readonly faults: readonly Fault[] } {
  const faults: Fault[] = [];
  const fault = (field: string, sentence: string) => void faults.push({ field, sentence });
  const markets = LABEL_MARKETS.flatMap(({ id }, at) => readMarket(id, fields.markets[at]!, fault));
  if (markets.length === 0) fault(`market-${LABEL_MARKETS[0]!.id}`, "Tick at least one market.");
  const sizes = fields.sizes.flatMap((size, at) => readSize(size, at, newId, fault));
  if (sizes.length === 0) fault("name-0", "Keep at least one label.");
  const figure = (field: "shelfLife" | "open", what: string) => {
    const read = readFigure(fields[field], { ...MONTHS, what });
    if (typeof read === "string") fault(field, read);
    return typeof read === "number" ? read : undefined;
  };
  const shelfLifeMonths = figure("shelfLife", "How long a closed jar lasts");
  const openMonths = figure("open", "How long an opened jar lasts");
  for (const field of ["contact", "precautions"] as const) {
    const long = lengthFault("it", fields[field], TEXT_LONGEST);
    if (long) fault(field, long);
  }
  if (faults.length > 0) return { faults };
  const { contact, precautions } = fields;
  return {
    settings: {
      ...{ markets, sizes },
      ...(shelfLifeMonths === undefined ? {} : { shelfLifeMonths }),
      ...(openMonths === undefined ? {} : { openMonths }),
      ...(contact ? { contact: contact.replaceAll("\n", " ") } : {}),
      ...(precautions ? { precautions: precautions.replaceAll("\n", " ") } : {}),
    },
  };
}

type TellFault = (field: string, sentence: string) => void;

function readMarket(id: string, typed: MarketFields, fault: TellFault): MarketSettings[] {
  if (!typed.isSold) return [];
  const languages = LABEL_LANGUAGES.filter((language) => typed.languages.includes(language));
  if (languages.length === 0) {
    fault(`language-${id}-${LABEL_LANGUAGES[0]!}`, "Tick a language for each market you sell in.");
  }
  const { person, address } = typed;
  if (person === "" && address === "") return [{ id, languages }];
  const name = readName(person);
  if (!name) fault(`person-${id}`, `Type ${NAME_ASKED}, or clear the address as well.`);
  if (address === "") fault(`address-${id}`, "Type the address that goes with the name.");
  const long = lengthFault("the address", address, TEXT_LONGEST);
  if (long) fault(`address-${id}`, long);
  return [{ id, languages, responsible: { name: name ?? "", address } }];
}

function readSize(
  typed: SizeFields,
  at: number,
  newId: () => string,
  fault: TellFault,
): LabelSettings["sizes"] {
  if (typed.name === "" && typed.width === "" && typed.height === "") return [];
  const name = readName(typed.name);
  if (!name) fault(`name-${at}`, `Give label ${at + 1} ${NAME_ASKED}.`);
  const side = (field: "width" | "height") => {
    const read = readFigure(typed[field], { ...SIDE, what: `The ${field} of label ${at + 1}` });
    if (typeof read === "number") return read;
    fault(`${field}-${at}`, read ?? "");
    return 0;
  };
  const [widthMm, heightMm] = [side("width"), side("height")];
  const carries = CARRIES.find((each) => each === typed.carries);
  if (!carries) fault(`carries-${at}`, "Choose from the list what it carries.");
  const panel = readFigure(typed.panel, { ...PANEL, what: `The panel of label ${at + 1}` });
  if (typeof panel === "string") fault(`panel-${at}`, panel);
  const panelCm2 = typeof panel === "number" ? { panelCm2: panel } : {};
  const id = typed.id === "" ? newId() : typed.id;
  return [{ id, name: name ?? "", widthMm, heightMm, carries: carries ?? "all", ...panelCm2 }];
}

const SIDE = { unit: "mm", ...SIDE_MM, decimals: 1, example: 40, must: true };
const PANEL = { unit: "cm²", least: 1, greatest: 1000, decimals: 1, example: 30 };
const MONTHS = { unit: "months", least: 1, greatest: MONTHS_MOST, decimals: 0, example: 9 };

export function labelSettingsPage(
  revision: number,
  responsible: { readonly name: string } | undefined,
  { fields, faults, overtaken, saved }: PartSays<LabelFields>,
) {
  const field = (id: string, label: string, value: string) => ({
    ...{ id, name: id, label, value, fault: faultOf(faults, id) },
  });
  return {
    title: "Labels",
    ...{ revision, faults, overtaken, saved },
    own: responsible?.name ?? "",
    markets: LABEL_MARKETS.map(({ id, name, asksContact }, at) => {
      const typed = fields.markets[at]!;
      return {
        ...{ id, name, asksContact, ticked: typed.isSold },
        languages: LABEL_LANGUAGES.map((language) => ({
          ...{ id: language, words: LABEL_WORDS[language].languageName },
          ticked: typed.languages.includes(language),
        })),
        person: field(`person-${id}`, "Name", typed.person),
        address: field(`address-${id}`, "Address", typed.address),
        isOpen: typed.person !== "" || typed.address !== "",
      };
    }),
    sizes: fields.sizes.map((size, at) => ({
      ...{ at, number: at + 1, id: size.id, title: size.name, isOpen: at === 0 },
      name: field(`name-${at}`, "Name", size.name),
      width: field(`width-${at}`, "Width", size.width),
      height: field(`height-${at}`, "Height", size.height),
      panel: field(`panel-${at}`, "Side that faces the shopper", size.panel),
      carries: CARRIES.map((each) => ({
        ...{ id: each, words: CARRIES_WORDS[each], chosen: each === size.carries },
      })),
    })),
    shelfLife: field("shelfLife", "A closed jar lasts", fields.shelfLife),
    open: field("open", "An opened jar lasts", fields.open),
    contact: field("contact", "Where reactions are reported to", fields.contact),
    precautions: field("precautions", "Your own precautions", fields.precautions),
  };
}

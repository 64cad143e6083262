/**
 * A base: butters with bounds, and an oil to start with in each place.
 */
import { type Base, type BaseButter, type BasePlace, type Product } from "#core/compose/product.ts";
import { type Desk, nameOf } from "../desk.ts";
import { boundFault } from "../doses.ts";
import type { ProductDraft } from "../draft-shape.ts";
import { checkLength, idFor, percentWords, readShare, sameName, typedShare } from "../fields.ts";
import type { Fault } from "../../typed/fault.ts";
import { textOf, textsOf } from "../../typed/text.ts";
import { baseModel } from "./base-model.ts";
import { type SheetForm, outcome } from "./sheet-form.ts";

/** In the address, for a base that is not there yet. */
export const NEW_BASE = "new";
export const BASES_MOST = 20;
const NAME_MOST = 60;
const WORDS_MOST = 300;
/** Empty rows below the butters that are there. */
const SPARE_ROWS = 2;

export interface TypedRow {
  readonly ingredient: string;
  readonly share: string;
  readonly least: string;
  readonly greatest: string;
}

export interface TypedBase {
  readonly name: string;
  readonly words: string;
  readonly butters: readonly TypedRow[];
  readonly oils: readonly (TypedRow & { readonly place: string })[];
}

const EMPTY_ROW: TypedRow = { ingredient: "", share: "", least: "", greatest: "" };

/** The sheet of one base. */
export function baseSheet(baseId: string): SheetForm<TypedBase> {
  return {
    sheet: "bases",
    page: "maker-product-base",
    write: ({ product }) =>
      typedOf(
        product,
        product.bases.find(({ id }) => id === baseId),
      ),
    read: readBase,
    apply(typed, draft, desk) {
      const faults: Fault[] = [];
      const base = asBase(typed, baseId, draft, desk, faults);
      return outcome(faults, () => withBase(draft, base));
    },
    model: (typed, draft, desk, shipDay) => {
      const faults: Fault[] = [];
      const base = asBase(typed, baseId, draft, desk, faults);
      return baseModel({ typed, baseId, base, isWhole: faults.length === 0 }, draft, desk, shipDay);
    },
  };
}

function typedOf({ places }: Product, base: Base | undefined): TypedBase {
  const rows = base?.butters.map(typedRow) ?? [];
  return {
    name: base?.name ?? "",
    words: base?.words ?? "",
    butters: [...rows, ...Array.from({ length: base ? SPARE_ROWS : 4 }, () => EMPTY_ROW)],
    oils: places.map(({ id: place }) => {
      const oil = base?.oils.find((each) => each.place === place);
      return { place, ...(oil ? typedRow(oil) : EMPTY_ROW) };
    }),
  };
}

function typedRow({ ingredient, share, least, greatest }: BaseButter): TypedRow {
  return {
    ingredient,
    share: typedShare(share),
    least: typedShare(least),
    greatest: typedShare(greatest),
  };
}

function readBase(form: FormData): TypedBase {
  const rows = (kind: string) => {
    const [shares, leasts, greatests] = ["Share", "Least", "Greatest"].map((which) =>
      textsOf(form, `${kind}${which}`),
    );
    return textsOf(form, kind).map((ingredient, at) => ({
      ingredient,
      share: shares?.[at] ?? "",
      least: leasts?.[at] ?? "",
      greatest: greatests?.[at] ?? "",
    }));
  };
  const places = textsOf(form, "place");
  return {
    name: textOf(form, "name").replaceAll("\n", " "),
    words: textOf(form, "words"),
    butters: rows("butter"),
    oils: rows("oil").map((row, at) => ({ place: places[at] ?? "", ...row })),
  };
}

/** The base as typed; what cannot be read counts as 0, with a fault. */
function asBase(
  { name, words, butters, oils }: TypedBase,
  baseId: string,
  { product }: ProductDraft,
  desk: Desk,
  faults: Fault[],
): Base {
  const others = product.bases.filter(({ id }) => id !== baseId);
  if (name === "") faults.push({ field: "name", sentence: "Give the base a name." });
  checkLength(name, NAME_MOST, { field: "name", what: "The name" }, faults);
  checkLength(words, WORDS_MOST, { field: "words", what: "The words" }, faults);
  if (others.some((other) => sameName(other.name, name))) {
    faults.push({ field: "name", sentence: `Another base is called “${name}”.` });
  }
  if (baseId === NEW_BASE && others.length >= BASES_MOST) {
    faults.push({ field: "name", sentence: `A product can have ${BASES_MOST} bases.` });
  }
  const asButters = butters.flatMap((row, at): BaseButter[] =>
    readRow(row, `butter-${at}`, desk, faults),
  );
  asButters.forEach(({ ingredient }, at) => {
    if (asButters.findIndex((each) => each.ingredient === ingredient) === at) return;
    const sentence = `${nameOf(desk, ingredient)} stands here twice: put both shares on one line.`;
    faults.push({ field: "butter-0", sentence });
  });
  const asOils = oils.flatMap(({ place, ...row }, at): BasePlace[] => {
    const read = readRow(row, `oil-${at}`, desk, faults);
    const known = product.places.find(({ id }) => id === place);
    return read.flatMap((each) => {
      if (known?.allowed.includes(each.ingredient)) return [{ place, ...each }];
      const sentence = `${nameOf(desk, each.ingredient)} is not allowed as ${known?.name ?? "that"}.`;
      faults.push({ field: `oil-${at}`, sentence });
      return [];
    });
  });
  if (asButters.length + asOils.length === 0) {
    faults.push({ field: "butter-0", sentence: "Choose what the base is made of." });
  }
  const taken = others.map(({ id }) => id);
  const id = baseId === NEW_BASE ? idFor(name, "base", [...taken, NEW_BASE]) : baseId;
  return { id, name, words, butters: asButters, oils: asOils };
}

function readRow(row: TypedRow, field: string, desk: Desk, faults: Fault[]): BaseButter[] {
  const { ingredient } = row;
  const isEmpty = row.share === "" && row.least === "" && row.greatest === "";
  if (ingredient === "") {
    if (!isEmpty)
      faults.push({ field, sentence: "A share stands on a line without an ingredient." });
    return [];
  }
  const name = nameOf(desk, ingredient);
  if (!desk.ingredientOf(ingredient)) {
    faults.push({ field, sentence: `Nothing is known of ${name}: choose another.` });
  }
  const before = faults.length;
  const share = readShare(
    row.share,
    { field: `${field}-share`, what: `The share of ${name}` },
    faults,
  );
  const end = (typed: string, which: string, words: string) =>
    typed === ""
      ? share // no bound of its own: the share stands still on that side
      : readShare(typed, { field: `${field}-${which}`, what: `The ${words} of ${name}` }, faults);
  const least = end(row.least, "least", "least");
  const greatest = end(row.greatest, "greatest", "most");
  if (faults.length === before) {
    checkBounds({ share, least, greatest }, name, field, faults);
    const beyond = boundFault(desk, ingredient, greatest);
    if (beyond) faults.push({ field: `${field}-greatest`, sentence: beyond });
  }
  return [{ ingredient, share, least, greatest }];
}

function checkBounds(
  { share, least, greatest }: Pick<BaseButter, "share" | "least" | "greatest">,
  name: string,
  field: string,
  faults: Fault[],
): void {
  const [low, high] = [percentWords(least), percentWords(greatest)];
  if (least > greatest) {
    const sentence = `The bounds of ${name} cross: at least ${low} is more than at most ${high}.`;
    faults.push({ field: `${field}-least`, sentence });
  } else if (share < least || share > greatest) {
    const sentence = `${name} is at ${percentWords(share)}, outside its bounds of ${low} to ${high}.`;
    faults.push({ field: `${field}-share`, sentence });
  }
}

function withBase(draft: ProductDraft, base: Base): ProductDraft {
  const { bases } = draft.product;
  const isNew = !bases.some(({ id }) => id === base.id);
  const written = isNew
    ? [...bases, base]
    : bases.map((each) => (each.id === base.id ? base : each));
  return { ...draft, product: { ...draft.product, bases: written } };
}

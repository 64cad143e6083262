/**
 * Jars the product is sold in, and how many an order may take.
 */
import type { Jar } from "#core/compose/product.ts";
import type { ProductDraft } from "../draft-shape.ts";
import { checkLength, idFor, readNumber, sameName } from "../fields.ts";
import type { Fault } from "../../typed/fault.ts";
import { textOf, textsOf } from "../../typed/text.ts";
import { type SheetForm, outcome } from "./sheet-form.ts";

const SPARE_ROWS = 2;
export const JARS_MOST = 12;
const NAME_MOST = 40;
const FILL = { least: 1, greatest: 5000, unit: "g", decimals: 0 } as const;
const QUANTITY = { least: 1, greatest: 500, unit: "jars", decimals: 0 } as const;

interface TypedJar {
  /** Empty for a jar to come. */
  readonly id: string;
  readonly name: string;
  readonly fill: string;
}

interface Typed {
  readonly jars: readonly TypedJar[];
  readonly quantity: string;
}

export const JARS_SHEET: SheetForm<Typed> = {
  sheet: "jars",
  page: "maker-product-jars",
  write: ({ product: { jars, quantityMost } }) => ({
    jars: [
      ...jars.map(({ id, name, fillG }) => ({ id, name, fill: String(fillG) })),
      ...Array.from({ length: SPARE_ROWS }, () => ({ id: "", name: "", fill: "" })),
    ],
    quantity: String(quantityMost),
  }),
  read(form) {
    const [names, fills] = [textsOf(form, "name"), textsOf(form, "fill")];
    return {
      jars: textsOf(form, "jar").map((id, at) => ({
        id,
        name: names[at] ?? "",
        fill: fills[at] ?? "",
      })),
      quantity: textOf(form, "quantity"),
    };
  },
  apply({ jars: typed, quantity }, draft) {
    const faults: Fault[] = [];
    const jars = typed.flatMap((jar, at) => readJar(jar, at, typed, faults));
    if (jars.length === 0) faults.push({ field: "jar-0", sentence: "Add a jar to sell it in." });
    if (jars.length > JARS_MOST) {
      faults.push({ field: "jar-0", sentence: `A product can have ${JARS_MOST} jars.` });
    }
    const ask = { field: "quantity", what: "The most jars in one order" };
    const quantityMost = readNumber(quantity, ask, QUANTITY, faults);
    return outcome(faults, () => withJars(draft, jars, quantityMost));
  },
  model: ({ jars, quantity }) => ({
    jars: jars.map((jar, at) => ({ ...jar, field: `jar-${at}`, number: at + 1 })),
    quantity,
  }),
};

function readJar(jar: TypedJar, at: number, typed: readonly TypedJar[], faults: Fault[]): Jar[] {
  const { name, fill } = jar;
  if (name === "" && fill === "") return [];
  const field = `jar-${at}`;
  if (name === "") faults.push({ field, sentence: "Give the jar a name, such as “Small jar”." });
  checkLength(name, NAME_MOST, { field, what: "The name of a jar" }, faults);
  if (typed.slice(0, at).some((before) => before.name !== "" && sameName(before.name, name))) {
    faults.push({ field, sentence: `Two jars are called “${name}”.` });
  }
  const ask = { field: `${field}-fill`, what: `The filling of ${name || "the jar"}` };
  const fillG = readNumber(fill, ask, FILL, faults);
  const taken = typed.map(({ id }) => id).filter(Boolean);
  const earlier = typed.slice(0, at).filter((each) => each.id === "" && each.name !== "");
  // A new jar's id must differ from those of new jars before it as well.
  const ids = earlier.reduce((all, each) => [...all, idFor(each.name, "jar", all)], taken);
  return [{ id: jar.id || idFor(name, "jar", ids), name, fillG }];
}

/** A jar that is gone takes its cost and its price bounds along. */
function withJars(draft: ProductDraft, jars: readonly Jar[], quantityMost: number): ProductDraft {
  const standing = new Set(jars.map(({ id }) => id));
  const of = (minor: Readonly<Record<string, number>>) =>
    Object.fromEntries(Object.entries(minor).filter(([id]) => standing.has(id)));
  const { jarMinor, leastMinor, mostMinor } = draft.pricePolicy;
  return {
    ...draft,
    product: { ...draft.product, jars, quantityMost },
    pricePolicy: {
      ...draft.pricePolicy,
      jarMinor: of(jarMinor),
      ...(leastMinor ? { leastMinor: of(leastMinor) } : {}),
      ...(mostMinor ? { mostMinor: of(mostMinor) } : {}),
    },
  };
}

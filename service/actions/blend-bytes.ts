/**
 * A choice as few bytes, small enough for a link.
 *
 * A version of a product never changes, so the bytes name it and then only say which base, which jar, which of the
 * allowed oils, and the shares. Layout, every number an unsigned LEB128 (7 bits a byte, the low ones first):
 *
 *   FORM, length of the product's id, its UTF-8 bytes, version, jar, base, share of each butter,
 *   then oil and share for each place
 *
 * Jar, base and oil are positions in the product's own lists.
 */
import type { Choice, Product } from "#core/compose/product.ts";

/** Written first. A change of the layout takes the next number, so that an old code is known for what it is. */
export const FORM = 1;

export interface Chosen {
  readonly choice: Choice;
  /** Id of a jar. */
  readonly jar: string;
}

/** What can be read before the product's version is at hand. */
export interface Heading {
  readonly form: number;
  readonly product: string;
  readonly version: number;
  /** What only that version can read. */
  readonly rest: Uint8Array;
}

/**
 * Write a choice.
 * @param chosen a choice that composes with this product, and one of its jars
 * @throws RangeError when it names what the product has not
 */
export function writeChoice(product: Product, version: number, { choice, jar }: Chosen) {
  const base = product.bases.find(({ id }) => id === choice.base);
  if (!base) throw new RangeError(`no base ${choice.base}`);
  const id = new TextEncoder().encode(product.id);
  const butters = base.butters.map(({ ingredient }) =>
    shareOf(choice.butters.find((each) => each.ingredient === ingredient)),
  );
  const oils = base.oils.flatMap(({ place }) => {
    const chosen = choice.oils.find((each) => each.place === place);
    return [placeAt(allowedIn(product, place), chosen?.ingredient), shareOf(chosen)];
  });
  const numbers = [
    placeAt(
      product.jars.map((each) => each.id),
      jar,
    ),
    product.bases.indexOf(base),
    ...butters,
    ...oils,
  ];
  const head = [FORM, id.length, ...id];
  return new Uint8Array([...head, ...[version, ...numbers].flatMap(sevenBits)]);
}

/** @returns nothing when the bytes end too soon */
export function readHeading(bytes: Uint8Array): Heading | undefined {
  const [form = NaN, length = NaN] = bytes;
  const id = bytes.subarray(2, 2 + length);
  const read = reader(bytes.subarray(2 + length));
  const version = read.next();
  if (id.length !== length || version === undefined) return undefined;
  return { form, product: new TextDecoder().decode(id), version, rest: read.rest() };
}

/**
 * Read a choice with the version it was written with.
 * @returns nothing when the bytes do not fit it: they were not written with it
 */
export function readChoice(product: Product, rest: Uint8Array): Chosen | undefined {
  const { next, rest: left } = reader(rest);
  const jar = product.jars[next() ?? NaN];
  const base = product.bases[next() ?? NaN];
  if (!jar || !base) return undefined;
  const butters = base.butters.map(({ ingredient }) => ({ ingredient, share: next() ?? NaN }));
  const oils = base.oils.map(({ place }) => {
    const ingredient = allowedIn(product, place)[next() ?? NaN] ?? "";
    return { place, ingredient, share: next() ?? NaN };
  });
  const isWhole = [...butters, ...oils].every(({ ingredient, share }) => ingredient && share >= 0);
  if (!isWhole || left().length > 0) return undefined;
  return { choice: { base: base.id, butters, oils }, jar: jar.id };
}

function allowedIn({ places }: Product, place: string): readonly string[] {
  return places.find(({ id }) => id === place)?.allowed ?? [];
}

function shareOf(part: { readonly share: number } | undefined): number {
  if (!part) throw new RangeError("the choice leaves a share out");
  return part.share;
}

function placeAt(list: readonly string[], id = ""): number {
  const at = list.indexOf(id);
  if (at < 0) throw new RangeError(`no ${id}`);
  return at;
}

function sevenBits(number: number): number[] {
  const low = number % 128;
  return number < 128 ? [low] : [low + 128, ...sevenBits(Math.floor(number / 128))];
}

function reader(bytes: Uint8Array) {
  let at = 0;
  return {
    next(): number | undefined {
      let number = 0;
      for (let scale = 1; at < bytes.length; scale *= 128) {
        const byte = bytes[at++]!;
        number += (byte % 128) * scale;
        if (byte < 128) return number;
      }
      return undefined;
    },
    rest: () => bytes.subarray(at),
  };
}

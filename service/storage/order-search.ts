/**
 * How a maker finds an order among many years of them: by how something on it begins, over an index; or, asked for
 * more, by what stands inside a name or an address, some thousand orders at a time.
 */
import { orders } from "#data/schema.ts";
import { type SQL, and, asc, desc, eq, gte, lt, not, or, sql } from "drizzle-orm";
import type { SQLiteColumn } from "drizzle-orm/sqlite-core";
import type { Database } from "./database.ts";
import { type ListedOrder, listedOrders } from "./order-lists.ts";
import { holdsWords } from "./words-inside.ts";

/** Orders a look inside the words goes through before it asks whether to go on. */
export const SEARCH_WINDOW = 5000;

/** Letters and digits of a reference; fewer than two begin too many of them to be of use. */
const REFERENCE = /^[\dA-HJKMNP-TV-Z]{2,6}$/;
const REFERENCE_LENGTH = 6;

/** Where a page ended: in which of the ranges, and at which row of it. */
export interface SearchMark {
  readonly range: number;
  readonly key: string;
  readonly row: number;
}

export interface Beginnings {
  readonly found: readonly ListedOrder[];
  /** Where the next page begins; nothing on the last. */
  readonly next: SearchMark | undefined;
}

/** All orders of which a column begins in one way. */
interface Range {
  readonly column: SQLiteColumn;
  readonly beginning: string;
}

/** The row's number: orders are numbered as they are placed. */
const ROW = sql<number>`${orders}.rowid`;

export function orderSearchIn({ q }: Database) {
  async function pageOf(
    shopId: string,
    { column, beginning }: Range,
    earlier: readonly Range[],
    { most, after }: { most: number; after: SearchMark | undefined },
  ) {
    const beyond =
      after && or(sql`${column} > ${after.key}`, and(eq(column, after.key), lt(ROW, after.row)));
    return await listedOrders(
      q,
      { row: ROW, key: sql<string>`${column}` },
      and(
        eq(orders.shopId, shopId),
        gte(column, after?.key ?? beginning),
        lt(column, endOf(beginning)),
        beyond,
        ...earlier.map((range) => not(sql`(${begins(range)}) is true`)),
      ),
    )
      .orderBy(asc(column), desc(ROW))
      .limit(most);
  }

  return {
    /**
     * Orders whose customer's name, e-mail or reference begins with the words, in this order, each once. Small and
     * capital letters: as typed, all small, all capital, and each word with a capital.
     * @param after where the page before ended
     */
    beginning: async (
      shopId: string,
      words: string,
      after: SearchMark | undefined,
      most: number,
    ): Promise<Beginnings> => {
      const ranges = rangesOf(words);
      const rows: Awaited<ReturnType<typeof pageOf>> = [];
      const marks: SearchMark[] = [];
      for (let range = after?.range ?? 0; range < ranges.length && rows.length <= most; range++) {
        const from = range === after?.range ? after : undefined;
        const page = { most: most + 1 - rows.length, after: from };
        const found = await pageOf(shopId, ranges[range]!, ranges.slice(0, range), page);
        rows.push(...found);
        marks.push(...found.map(({ key, row }) => ({ range, key, row })));
      }
      return { found: rows.slice(0, most), next: rows.length > most ? marks[most - 1] : undefined };
    },
    /**
     * Orders whose customer's name or address holds the words, the newest first, among the SEARCH_WINDOW placed before
     * a moment.
     * @returns up to `most`, and the moment to look on before; nothing when all were looked through
     */
    inside: async (shopId: string, words: string, before: number, most: number) => {
      const earlier = and(eq(orders.shopId, shopId), lt(orders.placedAt, before));
      const [end] = await q
        .select({ placedAt: orders.placedAt })
        .from(orders)
        .where(earlier)
        .orderBy(desc(orders.placedAt))
        .limit(1)
        .offset(SEARCH_WINDOW - 1);
      const found: ListedOrder[] = await listedOrders(
        q,
        {},
        and(
          earlier,
          end && gte(orders.placedAt, end.placedAt),
          or(holdsWords(orders.customerName, words), holdsWords(orders.customerEmail, words)),
        ),
      )
        .orderBy(desc(orders.placedAt), desc(orders.id))
        .limit(most + 1);
      const next = found[most];
      if (!next) return { found, before: end?.placedAt };
      const whole = found.filter(({ placedAt }) => placedAt > next.placedAt);
      // Orders of one second stay together, so that none falls between two pages.
      return whole.length > 0
        ? { found: whole, before: next.placedAt + 1 }
        : { found: found.slice(0, most), before: next.placedAt };
    },
  };
}

/** What is looked for where, the likeliest first: a whole reference, names, addresses, beginnings of references. */
function rangesOf(words: string): Range[] {
  const upper = words.toUpperCase();
  const lower = words.toLowerCase();
  const capitals = lower.replaceAll(/(?<![\p{L}\p{M}])\p{L}/gu, (letter) => letter.toUpperCase());
  const spellings = [...new Set([words, capitals, lower, upper])];
  const reference = REFERENCE.test(upper) ? [{ column: orders.reference, beginning: upper }] : [];
  const isWhole = words.length === REFERENCE_LENGTH;
  return [
    ...(isWhole ? reference : []),
    ...spellings.map((beginning) => ({ column: orders.customerName, beginning })),
    ...spellings.map((beginning) => ({ column: orders.customerEmail, beginning })),
    ...(isWhole ? [] : reference),
  ];
}

function begins({ column, beginning }: Range): SQL | undefined {
  return and(gte(column, beginning), lt(column, endOf(beginning)));
}

/** What stands after everything that begins so. */
function endOf(beginning: string): string {
  return `${beginning}\u{10FFFF}`;
}

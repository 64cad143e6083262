/**
 * Names as nobody should have one: markup, quotes, the start of a formula, a change of reading direction and the end of
 * a mail header. Written into every row and document that holds a name, past the forms that would have cleaned it.
 */
import { sql } from "drizzle-orm";
import type { TestShop } from "../helpers/shop.ts";

/** What an escaped text never shows as it stands; `zq` and `qz` let a page be searched for it. */
const CORE = `zq"'<i>&qz`;
export const HOSTILE = `=${CORE}\u202e\r\nBcc: thief@elsewhere.example`;

/** How HTML, SVG and JSON inside HTML may write the core: nothing that ends an attribute or begins a tag. */
const ESCAPED = /^zq(&quot;|&#34;|\\")(&#x27;|&#39;|')(&lt;|\\u003c)i(&gt;|\\u003e)(&amp;|\\u0026)qz/;
/** Inside a JSON data block an apostrophe ends nothing; in HTML it would. */
const IN_JSON = /^zq\\"'/;

/** Every place in a page where a hostile name stands as it must not. */
export function unescapedIn(page: string): string[] {
  return [...page.matchAll(/zq(?=[^a-z0-9-])/g)].flatMap(({ index }) => {
    const found = page.slice(index, index + 60);
    const isJson = IN_JSON.test(found) === found.includes("\\u003c");
    return ESCAPED.test(found) && isJson ? [] : [page.slice(Math.max(0, index - 40), index + 60)];
  });
}

/** Columns of plain names by table. */
const NAMES: Readonly<Record<string, readonly string[]>> = {
  shops: ["name"],
  people: ["name"],
  products: ["name"],
  api_keys: ["name"],
  passkeys: ["name"],
  ingredients: ["name", "supplier", "scent", "note"],
  lots: ["code", "supplier", "note"],
  stock_movements: ["note"],
  test_jars: ["title", "lot", "note"],
};

/** Columns of documents by table, in which these keys are names. */
const DOCUMENTS: Readonly<Record<string, string>> = {
  shops: "particulars",
  product_versions: "product",
};
const KEYS = new Set(["name", "words", "maker", "address", "contact", "precautions"]);

/** Make every name that is stored hostile; a lot's code keeps a beginning of its own, since it names the lot. */
export async function poisonNames({ q }: TestShop["db"]): Promise<void> {
  for (const [table, columns] of Object.entries(NAMES)) {
    for (const column of columns) {
      const into = sql`${sql.identifier(column)} = ${HOSTILE} || ' ' || rowid`;
      await q.run(sql`update ${sql.identifier(table)} set ${into}`);
    }
  }
  for (const [table, column] of Object.entries(DOCUMENTS)) {
    const [of, at] = [sql.identifier(table), sql.identifier(column)];
    const rows = await q.all<{ rowid: number; text: string }>(
      sql`select rowid, ${at} as text from ${of}`,
    );
    for (const { rowid, text } of rows) {
      const hostile = JSON.stringify(JSON.parse(text), (key, value: unknown) =>
        KEYS.has(key) && typeof value === "string" ? `${HOSTILE} ${value}` : value,
      );
      await q.run(sql`update ${of} set ${at} = ${hostile} where rowid = ${rowid}`);
    }
  }
}

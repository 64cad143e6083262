/**
 * Names as nobody should have one: markup, quotes, the start of a formula, a change of reading direction and the end of
 * a mail header. Written into every row and document that holds a name, past the forms that would have cleaned it.
 */
import { sql } from "drizzle-orm";
import type { TestShop } from "../helpers/shop.ts";

/** What an escaped text never shows as it stands; `zqmark` and `qz` let a page be searched for it. */
const CORE = `zqmark"'<i>&qz`;
export const HOSTILE = `=${CORE}\u202e\r\nBcc: thief@elsewhere.example`;

/** How HTML and SVG may write the core, JSON in an attribute with one more sign, and how JSON in a data block may. */
const ESCAPED = [
  /^zqmark\\?(&quot;|&#34;)(&#x27;|&#39;)&lt;i&gt;&amp;qz/,
  /^zqmark\\"'\\u003ci\\u003e\\u0026qz/,
];

/** Every place in a page where a hostile name stands as it must not. */
export function unescapedIn(page: string): string[] {
  return [...page.matchAll(/zqmark(?=[^a-z0-9-])/g)].flatMap(({ index }) => {
    const found = page.slice(index, index + 60);
    const isEscaped = ESCAPED.some((form) => form.test(found));
    return isEscaped ? [] : [page.slice(Math.max(0, index - 40), index + 60)];
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
export async function poisonNames({ q }: Pick<TestShop["db"], "q">): Promise<void> {
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

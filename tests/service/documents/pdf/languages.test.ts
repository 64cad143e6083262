/**
 * Work orders in every language of the bench: all words there and in their place, nothing left in English, every letter
 * in the font. What the steps say stands in `golden`, to be read by who speaks the language; after a change of words
 * `npx vitest run --config=tests/vitest.config.ts --root=. -u tests/service/documents/pdf/languages.test.ts` writes it
 * anew.
 */
import { existsSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { makeWorkOrder } from "#core/make/work-order.ts";
import { nameIn } from "#data/names.ts";
import type { BatchRun } from "#service/batches/sheets.ts";
import { linesOf } from "#service/batches/sheets.ts";
import { renderBatchSheets, sheetsModel } from "#service/documents/batch-sheets.ts";
import { writePdf } from "#service/documents/pdf/file.ts";
import { UNWRITTEN, written } from "#service/documents/pdf/letters.ts";
import { drawWorkOrder } from "#service/documents/pdf/work-order.ts";
import { BENCH_LANGUAGES, paperLocale } from "#service/words/bench-languages.ts";
import { englishLeft, readable } from "../../../helpers/english-left.ts";
import { SEVEN_BLEND } from "../../../helpers/ingredients.ts";
import { aWorkOrderInput } from "../../../helpers/work-orders.ts";
import { misplaced, plain, readPdf } from "./read-pdf.ts";

const ASSETS = new URL("../../../../.build/assets/", import.meta.url);
const asset = async (name: string) => new Uint8Array(readFileSync(new URL(name, ASSETS)));
const WORDS = new URL("../../../../service/words/", import.meta.url);

/** Two runs, one in loads and corrected: all that a work order can say. */
function runsOf(): BatchRun[] {
  const made = makeWorkOrder(aWorkOrderInput());
  if ("findings" in made) throw new Error(made.findings[0]!.code);
  const { workOrder } = made;
  const half = linesOf({ workOrder, loads: 1 }).map(({ targetMg }) => targetMg / 2);
  return [
    { workOrder, loads: 1 },
    { workOrder, loads: 2, loadTargetsMg: [half, half] },
  ];
}

/** Heads of columns, whose words must not be broken. */
const HEADS = [
  ...["share", "target", "tare", "actual", "lot", "initials", "order", "jar", "jars"],
  ...["fillEach", "volume", "filled", "lightest", "together", "lots"],
];

const pageIn = (locale: string) => ({
  ...{ stylesheets: [], locale, practice: true, ounces: true, contested: "FB-0311", edition: 2 },
  ...{ batchUrl: "https://quillfen.example/maker/batches/B-261125-01", backHref: "/maker" },
});

describe.each(BENCH_LANGUAGES)("a work order in %s", (language) => {
  const locale = paperLocale(language, "en-GB");
  const page = pageIn(locale);
  const model = sheetsModel(runsOf(), page);

  it.each(["a4", "letter"] as const)(
    "fits %s with every word inside and none over another",
    async (paper) => {
      const { pages, drawings } = drawWorkOrder(model, paper);
      const about = { title: "Work order", author: "Fernbank Butters", at: 0 };
      const read = await readPdf(await writePdf({ asset }, pages, about, drawings));
      expect(read.pages.flatMap(misplaced)).toEqual([]);
      const all = plain(read.pages.map(({ words }) => words).join(" "));
      const [sheet] = model.sheets;
      for (const { title, words, cautions, blanks } of [sheet!.weigh!, ...sheet!.steps]) {
        for (const each of [title, words, ...cautions, ...blanks.map(({ label }) => label)]) {
          expect(all).toContain(plain(written(each)));
        }
      }
      for (const head of HEADS) expect(all).toContain(plain(written(model.say(`sheet.${head}`))));
      for (const each of read.pages) expect(each.words).toContain(plain(written(model.running)));
      expect(all).not.toContain(UNWRITTEN);
      if (language !== "en") expect(englishLeft(all)).toEqual([]);
    },
  );

  it("is in its language on the page, too, down to the names of what is weighed", () => {
    const html = renderBatchSheets(runsOf(), page);
    expect(html).toContain(`<html lang="${locale}"`);
    const text = readable(html);
    if (language !== "en") expect(englishLeft(text)).toEqual([]);
    for (const { ingredient } of SEVEN_BLEND.parts) {
      expect(text).toContain(nameIn(locale, ingredient));
    }
    expect(text).toContain(language === "en" ? "1008.0 g" : "1008,0 g");
  });

  it("says its steps as they were read over", async () => {
    const golden = new URL(`golden/steps.${language}.txt`, import.meta.url);
    const wasThere = existsSync(golden); // one that is missing would be written and pass
    const [sheet] = model.sheets;
    const said = [sheet!.weigh!, ...sheet!.steps].map(({ title, words, cautions, blanks }) =>
      [
        title,
        words,
        ...cautions,
        blanks.map(({ label, unit }) => `${label} __ ${unit}`).join(" | "),
      ]
        .join("\n")
        .trim(),
    );
    await expect(`${said.join("\n\n")}\n`).toMatchFileSnapshot(golden.pathname);
    expect(wasThere).toBe(true);
  });

  it("has every letter of its words in the font, or a plain one for it", () => {
    const text = readFileSync(new URL(`${language}.json`, WORDS), "utf8");
    const letters = [...new Set(text.replaceAll("◆", ""))].filter((each) => each.trim() !== "");
    expect(letters.filter((each) => written(each) === UNWRITTEN)).toEqual([]);
    const accented = letters.filter((each) => /[À-ÿœŒ«»„“”’¿¡]/u.test(each));
    expect(accented.filter((each) => written(each) !== each)).toEqual([]);
  });
});

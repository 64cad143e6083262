/**
 * The whole bench: runs the chapters that are asked for, tells each figure as it comes, and writes them all down.
 */
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { format, resolveConfig } from "prettier";
import { CHAPTERS } from "./chapters.ts";
import { sayNumber } from "./figures.ts";
import type { Growth } from "./growth.ts";
import { type Options, readOptions } from "./options.ts";
import { type Plot, plotsOf } from "./plots.ts";
import { ROOT } from "./processes.ts";
import {
  type ChapterFigures,
  type Results,
  lineOf,
  machineWords,
  placedIn,
  readmeWords,
} from "./results.ts";

/** Where a whole run leaves its results; whatever is less leaves them where nothing is kept. */
const [KEPT, PASSING] = ["tests/bench/results", ".build/bench/results"] as const;

/** @param words what was said behind the command @throws an Error in words for a person */
export async function runBench(words: readonly string[]): Promise<void> {
  const options = readOptions(
    words,
    CHAPTERS.map(({ name }) => name),
  );
  const began = performance.now();
  const chapters: ChapterFigures[] = [];
  const growths: Growth[] = [];
  for (const { name, title, run } of CHAPTERS) {
    if (options.only.length > 0 && !options.only.includes(name)) continue;
    console.log(`\n${title}`);
    const { figures, growth } = await run(options, (line) => console.log(`  ${line}`));
    for (const figure of figures) console.log(lineOf(figure));
    chapters.push({ name, title, figures });
    if (growth) growths.push(growth);
  }
  const results = {
    day: new Date().toISOString().slice(0, 10),
    machine: machineWords(),
    minutes: (performance.now() - began) / 60_000,
    isQuick: options.isQuick,
    ...{ chapters, growths },
  };
  await writeDown(results, options);
}

async function writeDown(results: Results, { isQuick, only }: Options): Promise<void> {
  const isWhole = !isQuick && only.length === 0;
  const folder = isWhole ? KEPT : PASSING;
  const service = results.chapters.find(({ name }) => name === "service");
  const plots = plotsOf(service?.figures ?? [], results.growths);
  mkdirSync(`${ROOT}${folder}`, { recursive: true });
  await writeTidy(`${folder}/results.json`, JSON.stringify(results));
  for (const { file, svg } of plots) writeFileSync(`${ROOT}${folder}/${file}`, svg);
  await writeReadme(results, plots, folder, isWhole);
  const figures = results.chapters.flatMap((chapter) => chapter.figures);
  const missed = figures.filter(({ promise }) => promise && !promise.isKept).length;
  console.log(
    `\n${figures.length} figures in ${sayNumber(results.minutes)} minutes, ${missed} promises missed. In ${folder}` +
      (isWhole ? " and in README.md." : "; README.md is of whole runs and stays as it is."),
  );
}

async function writeReadme(
  results: Results,
  plots: readonly Plot[],
  folder: string,
  isWhole: boolean,
): Promise<void> {
  const told = readmeWords(results, plots, isWhole ? folder : ".");
  const words = await format(told, { parser: "markdown", proseWrap: "always", printWidth: 120 });
  if (!isWhole) return await writeTidy(`${folder}/figures.md`, words);
  const readme = readFileSync(`${ROOT}README.md`, "utf8");
  await writeTidy("README.md", placedIn(readme, words.trim()));
}

/** As the formatter has it, which looks over these files too. */
async function writeTidy(file: string, text: string): Promise<void> {
  const config = await resolveConfig(`${ROOT}${file}`);
  writeFileSync(`${ROOT}${file}`, await format(text, { ...config, filepath: `${ROOT}${file}` }));
}

/**
 * What came of a run: as lines while it runs, as JSON, and as tables and pictures between two marks in the README.
 */
import { cpus, totalmem } from "node:os";
import { type Figure, sayFigure, sayNumber } from "./figures.ts";
import type { Growth } from "./growth.ts";
import type { Plot } from "./plots.ts";

export interface ChapterFigures {
  readonly name: string;
  readonly title: string;
  readonly figures: readonly Figure[];
}

export interface Results {
  /** ISO day. */
  readonly day: string;
  readonly machine: string;
  readonly minutes: number;
  readonly isQuick: boolean;
  readonly chapters: readonly ChapterFigures[];
  readonly growths: readonly Growth[];
}

export const [BEGIN, END] = ["<!-- figures: begin -->", "<!-- figures: end -->"] as const;

/** Cores, memory and Node of this machine. */
export function machineWords(): string {
  const [first, ...others] = cpus();
  const model = first!.model.replaceAll(/\s+/g, " ").trim();
  const memory = Math.round(totalmem() / 2 ** 30);
  return `${others.length + 1} cores (${model}), ${memory} GiB, Node ${process.versions.node}`;
}

/** A figure in a line of the console; "!" at its head when its promise was not kept. */
export function lineOf(figure: Figure): string {
  const { what, promise } = figure;
  const mark = promise && !promise.isKept ? "! " : "  ";
  const said = [figure.more, ...besides(figure), promise?.words].filter(Boolean).join("; ");
  return `${mark}${what.padEnd(62)}${sayFigure(figure).padStart(12)}   ${said}`;
}

function besides({ beside = [] }: Figure): string[] {
  return beside.map((each) => `${each.what} ${sayFigure(each)}`);
}

/** The README with these figures in it. @throws when it has no place for them */
export function placedIn(readme: string, words: string): string {
  const [from, to] = [readme.indexOf(BEGIN), readme.indexOf(END)];
  if (from < 0 || to < from) throw new Error(`the README has no “${BEGIN}” and “${END}”`);
  return `${readme.slice(0, from + BEGIN.length)}\n\n${words}\n\n${readme.slice(to)}`;
}

/** Everything a reader of the README is told. @param folder where the pictures are, from the README */
export function readmeWords(results: Results, plots: readonly Plot[], folder: string): string {
  const { day, machine, minutes, chapters, growths } = results;
  const all = chapters.flatMap(({ figures }) => figures);
  const promised = all.flatMap(({ promise }) => (promise ? [promise] : []));
  const kept = promised.filter(({ isKept }) => isKept).length;
  return [
    `Measured on ${day} in one run of ${sayNumber(minutes)} minutes: ${machine}. Server, load and disk share these ` +
      `cores, so a server has one of them at most, and each figure stands beside what the same machine did without us ` +
      `in the same run. ${kept} of ${promised.length} promises were kept; the others are marked in the tables or pictures.`,
    table(chapters),
    ...growths.map(growthTable),
    ...plots.map(({ file, words }) => `![${words}](${folder}/${file})`),
  ].join("\n\n");
}

function table(chapters: readonly ChapterFigures[]): string {
  const rows = chapters.flatMap(({ title, figures }) => {
    const told = figures.filter(({ isDetail }) => !isDetail);
    return told.length > 0 ? [`| **${title}** | | | |`, ...told.map(rowOf)] : [];
  });
  return ["| What | measured | beside it | promised |", "| --- | --- | --- | --- |", ...rows].join(
    "\n",
  );
}

function rowOf(figure: Figure): string {
  const { what, more, promise } = figure;
  const measured = [sayFigure(figure), more].filter(Boolean).join("; ");
  const words = promise?.words ?? "";
  const said = promise && !promise.isKept ? `**missed:** ${words}` : words;
  return `| ${[what, measured, besides(figure).join("; "), said].map(cell).join(" | ")} |`;
}

function growthTable({ by, points }: Growth): string {
  const heads = points.map(({ count }) => `${sayNumber(count)} ${by}`);
  const rows = points[0]!.times.map(({ name, side }, at) => {
    const told = points.map(({ times }) => {
      const { p50, p99 } = times[at]!;
      return `${sayNumber(p50)} / ${sayNumber(p99)}`;
    });
    return [`${side}: ${name}`, ...told];
  });
  const whole = (name: string, of: (point: Growth["points"][number]) => number, unit: string) => [
    name,
    ...points.map((point) => `${sayNumber(of(point))} ${unit}`),
  ];
  const lines = [
    [`p50 / p99 [ms]`, ...heads],
    ["---", ...heads.map(() => "---")],
    ...rows,
    whole("memory", ({ memoryMb }) => memoryMb, "MB"),
    whole("database file", ({ fileMb }) => fileMb, "MB"),
  ];
  return lines.map((cells) => `| ${cells.map(cell).join(" | ")} |`).join("\n");
}

function cell(words: string): string {
  return words.replaceAll("|", "\\|");
}

/**
 * The lists of a work order: what is fetched, what is weighed, and what goes into each load.
 */
import type { SheetModel, SheetsModel } from "../batch-sheets.ts";
import { helpers } from "../helpers.ts";
import {
  BODY,
  type Block,
  HEADING,
  SMALL,
  type TextType,
  rule,
  space,
  stack,
  text,
} from "./blocks.ts";
import { MM } from "./canvas.ts";
import type { Flow } from "./flow.ts";
import {
  type Column,
  TARGET,
  columnsOf,
  groupRow,
  headRow,
  row,
  saying,
  withSum,
} from "./table.ts";
import { fact } from "./work-order-head.ts";

const NAME: TextType = { size: 9.25, line: 1.2, isBold: true };
const INCI: TextType = { size: 7.5, line: 1.2 };
const SUGGESTED: TextType = { size: 8, line: 1.2, grey: 0.46 };
const STAGE: TextType = { size: 8, line: 1.3 };
const ROW = 7.3 * MM;
const LOAD = { target: 26 * MM, actual: 19 * MM } as const;
/** Runs side by side in the list of what to fetch; more of them go into a table of their own. */
const RUNS_ABREAST = 6;

const lotOf = (lots: string) => saying(lots, SUGGESTED);

/** @param lead heading, words and cautions of the weighing */
export function weighList(flow: Flow, sheet: SheetModel, lead: Block): void {
  const columns = columnsOf(flow.width, [
    { head: "", width: 6 * MM },
    { head: "Ingredient", width: 0 },
    { head: "Share", width: 19 * MM, isRight: true },
    { head: "Target g", width: 20 * MM, isRight: true },
    { head: "Tare g", width: 17 * MM, isWritten: true },
    { head: "Actual g", width: 18 * MM, isWritten: true },
    { head: "Lot", width: 27 * MM, isWritten: true },
    { head: "Initials", width: 14 * MM, isWritten: true },
  ]);
  const rows = sheet.weighList.flatMap(({ title, lines }) =>
    lines.map((line, at) => {
      const name = [...saying(line.name, NAME), ...saying(line.inci, INCI)];
      const share = `${line.was ? "◆ " : ""}${helpers.percent(line.share)}`;
      const was = line.was ? saying(`was ${line.was}`, INCI) : [];
      const cells = [
        "tick" as const,
        name,
        [...saying(share, BODY), ...was],
        saying(line.targetG, TARGET),
        ...[[], [], lotOf(line.lots), []],
      ];
      const made = row(columns, cells, { least: ROW });
      return at === 0 ? groupRow(title, flow.width, made, STAGE) : made;
    }),
  );
  const sum = row(
    unwritten(columns, 5),
    [[], saying("All of it", NAME), saying("100.00\u00a0%", BODY), saying(sheet.bulkG, TARGET)],
    { least: ROW, above: 1, below: 1 },
  );
  flow.rows(headRow(columns), withSum(rows, sum), [lead, space(1.4 * MM)]);
  if (sheet.lotsNote) flow.place(stack([space(MM), text(sheet.lotsNote, flow.width, SMALL)]));
}

/** Targets of each load, a few loads to a table. */
export function loadTables(flow: Flow, sheet: SheetModel): void {
  const { width } = flow;
  flow.gap(2 * MM);
  const lead = [
    rule(width, 1),
    space(1.6 * MM),
    text(`The vessel holds it in ${sheet.loadCount} loads`, width, HEADING),
    text(LOAD_WORDS, width, BODY),
  ];
  for (const [at, { heads, lines, sums }] of sheet.loadTables.entries()) {
    const columns = columnsOf(width, [
      { head: "Ingredient", width: 0 },
      ...heads.flatMap((head): Column[] => [
        { head: `${head}, target g`, width: LOAD.target, isRight: true },
        { head: "Actual g", width: LOAD.actual, isWritten: true },
      ]),
    ]);
    const cells = (name: string, targets: readonly string[]) => [
      saying(name, NAME),
      ...targets.flatMap((target) => [saying(target, TARGET), []]),
    ];
    const rows = lines.map(({ name, targets }) =>
      row(columns, cells(name, targets), { least: ROW }),
    );
    const sum = row(columns, cells("All of it", sums), { least: ROW, above: 1 });
    flow.rows(headRow(columns), withSum(rows, sum), [...(at === 0 ? lead : []), space(1.4 * MM)]);
  }
}

const LOAD_WORDS =
  "Weigh each load by itself and take it through every step below. Write what the scale showed beside its target.";

/** What all runs need, before the sheets of the runs. */
export function fetchList(
  flow: Flow,
  { batchNumber }: SheetsModel,
  { lines, runSumsG, sumG }: Exclude<SheetsModel["together"], false>,
): void {
  const { width } = flow;
  flow.place(
    stack([
      text("All runs of the batch", width, { size: 9, line: 1.4 }),
      text("Fetch from the shelf", width, { size: 16, line: 1.15, isBold: true }),
      fact("Batch", batchNumber, width, { size: 11, line: 1.3, isBold: true }),
      space(1.6 * MM),
      rule(width, 1.6),
    ]),
  );
  for (let from = 0; from < runSumsG.length; from += RUNS_ABREAST) {
    const runs = runSumsG.slice(from, from + RUNS_ABREAST);
    const isLast = from + RUNS_ABREAST >= runSumsG.length;
    const columns = columnsOf(width, [
      { head: "", width: 6 * MM },
      { head: "Ingredient", width: 0 },
      ...runs.map((_, at) => ({ head: `Run ${from + at + 1}, g`, width: 16 * MM, isRight: true })),
      ...(isLast ? [{ head: "Together, g", width: 21 * MM, isRight: true }] : []),
      ...(isLast ? [{ head: "Lots", width: 27 * MM, isWritten: true }] : []),
    ]);
    const rows = lines.map(({ name, runsG, sumG: together, lots }) =>
      row(
        columns,
        [
          "tick",
          saying(name, NAME),
          ...runsG.slice(from, from + RUNS_ABREAST).map((grams) => saying(grams, BODY)),
          ...(isLast ? [saying(together, TARGET), lotOf(lots)] : []),
        ],
        { least: ROW },
      ),
    );
    const sum = row(
      unwritten(columns, columns.length - 1),
      [
        [],
        saying("All of it", NAME),
        ...runs.map((grams) => saying(grams, BODY)),
        ...(isLast ? [saying(sumG, TARGET)] : []),
      ],
      { least: ROW, above: 1 },
    );
    flow.rows(headRow(columns), withSum(rows, sum), [space(2 * MM)]);
  }
}

/** The same columns, with one box to write in at most. */
function unwritten(columns: readonly Column[], but: number): Column[] {
  return columns.map(({ isWritten = false, ...each }, at) => ({
    ...each,
    isWritten: isWritten && at === but,
  }));
}

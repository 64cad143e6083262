/**
 * The lists of a work order: what is fetched, what is weighed, and what goes into each load.
 */
import type { SheetModel, SheetsModel } from "../batch-sheets.ts";
import type { Tongue } from "../tongue.ts";
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
  lookOf,
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

type Say = Tongue["say"];

const lotOf = (lots: string) => saying(lots, SUGGESTED);

/** @param lead heading, words and cautions of the weighing */
export function weighList(flow: Flow, sheet: SheetModel, say: Say, lead: Block): void {
  const columns = columnsOf(flow.width, [
    { head: "", width: 6 * MM },
    { head: say("sheet.ingredient"), width: 0 },
    { head: say("sheet.share"), width: 19 * MM, isRight: true },
    { head: say("sheet.target"), width: 20 * MM, isRight: true },
    { head: say("sheet.tare"), width: 17 * MM, isWritten: true },
    { head: say("sheet.actual"), width: 18 * MM, isWritten: true },
    { head: say("sheet.lot"), width: 27 * MM, isWritten: true },
    { head: say("sheet.initials"), width: 14 * MM, isWritten: true },
  ]);
  const look = lookOf(ROW, say);
  const rows = sheet.weighList.flatMap(({ title, lines }) =>
    lines.map((line, at) => {
      const name = [...saying(line.name, NAME), ...saying(line.inci, INCI)];
      const share = `${line.was ? "◆ " : ""}${line.share}`;
      const was = line.was ? saying(line.was, INCI) : [];
      const cells = [
        "tick" as const,
        name,
        [...saying(share, BODY), ...was],
        saying(line.targetG, TARGET),
        ...[[], [], lotOf(line.lots), []],
      ];
      const made = row(columns, cells, look);
      return at === 0 ? groupRow(title, flow.width, made, STAGE) : made;
    }),
  );
  const sum = row(
    unwritten(columns, 5),
    [[], saying(say("sheet.all"), NAME), saying(sheet.all, BODY), saying(sheet.bulkG, TARGET)],
    { ...look, above: 1, below: 1 },
  );
  flow.rows(headRow(columns), withSum(rows, sum), [lead, space(1.4 * MM)]);
  if (sheet.lotsNote) flow.place(stack([space(MM), text(sheet.lotsNote, flow.width, SMALL)]));
}

/** Targets of each load, a few loads to a table. */
export function loadTables(flow: Flow, sheet: SheetModel, say: Say): void {
  const { width } = flow;
  const look = lookOf(ROW, say);
  flow.gap(2 * MM);
  const lead = [
    rule(width, 1),
    space(1.6 * MM),
    text(say("sheet.loadsTitle", { count: sheet.loadCount }), width, HEADING),
    text(say("sheet.loadsWords"), width, BODY),
  ];
  for (const [at, { heads, lines, sums }] of sheet.loadTables.entries()) {
    const columns = columnsOf(width, [
      { head: say("sheet.ingredient"), width: 0 },
      ...heads.flatMap((head): Column[] => [
        { head, width: LOAD.target, isRight: true },
        { head: say("sheet.actual"), width: LOAD.actual, isWritten: true },
      ]),
    ]);
    const cells = (name: string, targets: readonly string[]) => [
      saying(name, NAME),
      ...targets.flatMap((target) => [saying(target, TARGET), []]),
    ];
    const rows = lines.map(({ name, targets }) => row(columns, cells(name, targets), look));
    const sum = row(columns, cells(say("sheet.all"), sums), { ...look, above: 1 });
    flow.rows(headRow(columns), withSum(rows, sum), [...(at === 0 ? lead : []), space(1.4 * MM)]);
  }
}

/** What all runs need, before the sheets of the runs. */
export function fetchList(
  flow: Flow,
  { batchNumber, say }: SheetsModel,
  { lines, heads, runSumsG, sumG }: Exclude<SheetsModel["together"], false>,
): void {
  const { width } = flow;
  const look = lookOf(ROW, say);
  flow.place(
    stack([
      text(say("sheet.allRuns"), width, { size: 9, line: 1.4 }),
      text(say("sheet.fetch"), width, { size: 16, line: 1.15, isBold: true }),
      fact(say("sheet.batch"), batchNumber, width, { size: 11, line: 1.3, isBold: true }),
      space(1.6 * MM),
      rule(width, 1.6),
    ]),
  );
  for (let from = 0; from < runSumsG.length; from += RUNS_ABREAST) {
    const runs = runSumsG.slice(from, from + RUNS_ABREAST);
    const isLast = from + RUNS_ABREAST >= runSumsG.length;
    const columns = columnsOf(width, [
      { head: "", width: 6 * MM },
      { head: say("sheet.ingredient"), width: 0 },
      ...runs.map((_, at) => ({ head: heads[from + at]!, width: 16 * MM, isRight: true })),
      ...(isLast ? [{ head: say("sheet.together"), width: 21 * MM, isRight: true }] : []),
      ...(isLast ? [{ head: say("sheet.lots"), width: 27 * MM, isWritten: true }] : []),
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
        look,
      ),
    );
    const sum = row(
      unwritten(columns, columns.length - 1),
      [
        [],
        saying(say("sheet.all"), NAME),
        ...runs.map((grams) => saying(grams, BODY)),
        ...(isLast ? [saying(sumG, TARGET)] : []),
      ],
      { ...look, above: 1 },
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

/**
 * A run of a batch record: weights to be and as weighed with their lots, yield, and checks with their limits.
 */
import type { Tongue } from "../tongue.ts";
import type { RecordModel } from "./record.ts";
import { BODY, type Block, HEADING, type TextType, rule, space, text } from "./blocks.ts";
import { MM } from "./canvas.ts";
import type { Flow } from "./flow.ts";
import { type Column, columnsOf, headRow, lookOf, row, saying, withSum } from "./table.ts";

type RunModel = RecordModel["runs"][number];
type Say = Tongue["say"];

const CELL: TextType = { size: 8.75, line: 1.25 };
const BOLD: TextType = { ...CELL, isBold: true };
const FINE: TextType = { size: 7.25, line: 1.2 };
const SUBHEADING: TextType = { ...BODY, isBold: true };
const ROW = 5.4 * MM;
/** Lots in one row, so that it fits a page whatever their names. */
const LOTS_MOST = 8;
/** Stands where there is nothing to write. */
const NONE = "–";

const of = (words: string, type: TextType = CELL) => saying(words, type);

/** A run under the ones before it. */
export function drawRun(flow: Flow, run: RunModel, say: Say): void {
  const { width } = flow;
  flow.gap(2.4 * MM);
  weights(flow, run, say, [
    rule(width, 1),
    space(1.4 * MM),
    text(run.title, width, HEADING),
    text(run.words, width, BODY),
    space(1.2 * MM),
    text(say("record.weights"), width, SUBHEADING),
  ]);
  flow.gap(1.6 * MM);
  yields(flow, run, say);
  flow.gap(1.6 * MM);
  checks(flow, run, say);
}

function weights(flow: Flow, run: RunModel, say: Say, lead: readonly Block[]): void {
  const { isCorrected, made } = run;
  /** A column that stands only where there is something to write in it. */
  const when = <T>(stands: boolean, value: T): T[] => (stands ? [value] : []);
  const figures = (head: string): Column => ({ head, width: 18 * MM, isRight: true });
  const columns = columnsOf(flow.width, [
    { head: say("sheet.ingredient"), width: 0 },
    figures(say("record.ordered")),
    ...when(isCorrected, figures(say("record.corrected"))),
    ...when(made, figures(say("record.made"))),
    figures(say("record.target")),
    ...when(made, figures(say("record.weighed"))),
    ...when(made, figures(say("record.offBy"))),
    ...when(made, { head: say("record.lots"), width: 40 * MM }),
  ]);
  const look = lookOf(ROW, say);
  const rows = run.lines.flatMap((line) =>
    inPieces(line.lots).map((lots, at) => {
      if (at > 0) {
        const before = columns
          .slice(0, -1)
          .map((_, place) => (place === 0 ? of(line.more, FINE) : []));
        return row(columns, [...before, lots.flatMap(lotLines)], look);
      }
      const cells = [
        [...of(line.name, BOLD), ...of(line.inci, FINE)],
        of(line.ordered),
        ...when(isCorrected, of(line.planned)),
        ...when(made, of(line.made)),
        of(line.target),
        ...when(made, of(line.actual)),
        ...when(made, of(line.difference)),
        ...when(made, lots.flatMap(lotLines)),
      ];
      return row(columns, cells, look);
    }),
  );
  const sum = row(
    columns,
    [
      of(say("sheet.all"), BOLD),
      [],
      ...when(isCorrected, []),
      ...when(made, []),
      of(run.bulk, BOLD),
      ...when(made, of(run.weighed, BOLD)),
      ...when(made, of(run.difference, BOLD)),
    ],
    { ...look, above: 1 },
  );
  flow.rows(headRow(columns), withSum(rows, sum), lead);
}

/** Lots as many as a row has room for; one empty piece when there are none. */
function inPieces<T>(lots: readonly T[]): (readonly T[])[] {
  const pieces = Array.from({ length: Math.ceil(lots.length / LOTS_MOST) }, (_, at) =>
    lots.slice(at * LOTS_MOST, (at + 1) * LOTS_MOST),
  );
  return pieces.length > 0 ? pieces : [[]];
}

function lotLines({ code, used, supplier, durable }: RunModel["lines"][number]["lots"][number]) {
  return [
    ...of(used ? `${code} ${used}` : code),
    ...(supplier ? of(supplier, FINE) : []),
    ...(durable ? of(durable, FINE) : []),
  ];
}

function yields(flow: Flow, run: RunModel, say: Say): void {
  const columns = columnsOf(flow.width, [
    { head: say("record.what"), width: 0 },
    { head: say("record.theoretical"), width: 40 * MM, isRight: true },
    ...(run.made ? [{ head: say("record.actual"), width: 52 * MM, isRight: true }] : []),
  ]);
  const lead = [text(say("record.yield"), flow.width, SUBHEADING)];
  const rows = run.yields.map(({ what, theory, actual }) =>
    row(columns, [of(what, BOLD), of(theory || NONE), of(actual || NONE)], lookOf(ROW, say)),
  );
  flow.rows(headRow(columns), rows, lead);
}

function checks(flow: Flow, run: RunModel, say: Say): void {
  const columns = columnsOf(flow.width, [
    { head: say("record.check"), width: 0 },
    { head: say("record.limit"), width: 44 * MM },
    { head: say("record.found"), width: 40 * MM },
    { head: say("record.within"), width: 24 * MM },
  ]);
  const lead = [text(say("record.checks"), flow.width, SUBHEADING)];
  const rows = run.checks.map(({ what, limit, found, verdict }) =>
    row(
      columns,
      [of(what, BOLD), of(limit), of(found), of(verdict || NONE, BOLD)],
      lookOf(ROW, say),
    ),
  );
  flow.rows(headRow(columns), rows, lead);
}

/**
 * A run of a batch record: weights to be and as weighed with their lots, yield, and checks with their limits.
 */
import type { RecordModel } from "./record.ts";
import { BODY, HEADING, type TextType, rule, space, text } from "./blocks.ts";
import { MM } from "./canvas.ts";
import type { Flow } from "./flow.ts";
import { type Column, columnsOf, headRow, row, saying, withSum } from "./table.ts";

type RunModel = RecordModel["runs"][number];

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

/** A run under the ones before it. @param several whether the batch has more than one, so that it is numbered */
export function drawRun(flow: Flow, run: RunModel, several: boolean): void {
  const { width } = flow;
  const name = `${several ? `Run ${run.run}: ` : ""}${run.product}, ${run.base}`;
  const jars = run.jars.map(({ reference, words }) => `${reference}, ${words}`).join("; ");
  flow.gap(2.4 * MM);
  weights(flow, run, [
    rule(width, 1),
    space(1.4 * MM),
    text(name, width, HEADING),
    text(`Made on ${run.madeOn}, in ${run.loads}. For: ${jars}.`, width, BODY),
    space(1.2 * MM),
    text("Blend, weights and lots", width, SUBHEADING),
  ]);
  flow.gap(1.6 * MM);
  yields(flow, run);
  flow.gap(1.6 * MM);
  checks(flow, run);
}

function weights(flow: Flow, run: RunModel, lead: Parameters<Flow["rows"]>[2]): void {
  const { isCorrected, made } = run;
  /** A column that stands only where there is something to write in it. */
  const when = <T>(stands: boolean, value: T): T[] => (stands ? [value] : []);
  const figures = (head: string): Column => ({ head, width: 18 * MM, isRight: true });
  const columns = columnsOf(flow.width, [
    { head: "Ingredient", width: 0 },
    figures("Ordered"),
    ...when(isCorrected, figures("Corrected")),
    ...when(made, figures("Made")),
    figures("Target"),
    ...when(made, figures("Weighed")),
    ...when(made, figures("Off by")),
    ...when(made, { head: "Supplier’s lots", width: 40 * MM }),
  ]);
  const rows = run.lines.flatMap((line) =>
    inPieces(line.lots).map((lots, at) => {
      if (at > 0) {
        const before = columns
          .slice(0, -1)
          .map((_, place) => (place === 0 ? of(`${line.name}, more lots`, FINE) : []));
        return row(columns, [...before, lots.flatMap(lotLines)], { least: ROW });
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
      return row(columns, cells, { least: ROW });
    }),
  );
  const sum = row(
    columns,
    [
      of("All of it", BOLD),
      [],
      ...when(isCorrected, []),
      ...when(made, []),
      of(run.bulk, BOLD),
      ...when(made, of(run.weighed, BOLD)),
      ...when(made, of(run.difference, BOLD)),
    ],
    { least: ROW, above: 1 },
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

function lotLines({ code, used, supplier, bestBefore }: RunModel["lines"][number]["lots"][number]) {
  return [
    ...of(used ? `${code} ${used}` : code),
    ...(supplier ? of(supplier, FINE) : []),
    ...(bestBefore ? of(`best before ${bestBefore}`, FINE) : []),
  ];
}

function yields(flow: Flow, run: RunModel): void {
  const columns = columnsOf(flow.width, [
    { head: "What", width: 0 },
    { head: "Theoretical", width: 40 * MM, isRight: true },
    ...(run.made ? [{ head: "Actual", width: 52 * MM, isRight: true }] : []),
  ]);
  const lead = [text("Yield", flow.width, SUBHEADING)];
  const rows = run.yields.map(({ what, theory, actual }) =>
    row(columns, [of(what, BOLD), of(theory || NONE), of(actual || NONE)], { least: ROW }),
  );
  flow.rows(headRow(columns), rows, lead);
}

function checks(flow: Flow, run: RunModel): void {
  const columns = columnsOf(flow.width, [
    { head: "Check", width: 0 },
    { head: "Limit", width: 44 * MM },
    { head: "Found", width: 40 * MM },
    { head: "Within", width: 24 * MM },
  ]);
  const lead = [text("Checks and their limits", flow.width, SUBHEADING)];
  const rows = run.checks.map(({ what, limit, found, verdict }) =>
    row(columns, [of(what, BOLD), of(limit), of(found), of(verdict || NONE, BOLD)], { least: ROW }),
  );
  flow.rows(headRow(columns), rows, lead);
}

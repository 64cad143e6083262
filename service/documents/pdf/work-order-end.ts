/**
 * The end of a sheet: the jars, what the label and the customer are told, and who made and released it.
 */
import type { SheetModel } from "../batch-sheets.ts";
import type { Tongue } from "../tongue.ts";
import {
  BODY,
  type Block,
  HEADING,
  type TextType,
  beside,
  blanks,
  caution,
  listed,
  rule,
  space,
  stack,
  text,
} from "./blocks.ts";
import { MM } from "./canvas.ts";
import type { Flow } from "./flow.ts";
import { TARGET, columnsOf, headRow, lookOf, row, saying } from "./table.ts";

type Say = Tongue["say"];

const BOLD: TextType = { ...BODY, isBold: true };
const FINE: TextType = { size: 7.25, line: 1.2 };
const ROW = 7.2 * MM;
const GAP = 3 * MM;

/** All that stands under the steps. */
export function endOfSheet(flow: Flow, sheet: SheetModel, say: Say): void {
  flow.gap(MM);
  jars(flow, sheet, say);
  const { width } = flow;
  const left = (width - 7 * MM) * 0.535;
  const right = width - 7 * MM - left;
  flow.gap(1.4 * MM);
  flow.place(
    beside([
      { x: 0, block: kept(sheet, say, left) },
      { x: left + 7 * MM, block: promised(sheet, say, right) },
    ]),
  );
  flow.gap(2 * MM);
  flow.place(signOff(say, width));
}

function jars(flow: Flow, { jars: all }: SheetModel, say: Say): void {
  const columns = columnsOf(flow.width, [
    { head: say("sheet.order"), width: 26 * MM },
    { head: say("sheet.jar"), width: 0 },
    { head: say("sheet.jars"), width: 13 * MM, isRight: true },
    { head: say("sheet.fillEach"), width: 25 * MM, isRight: true },
    { head: say("sheet.volume"), width: 20 * MM, isRight: true },
    { head: say("sheet.filled"), width: 22 * MM, isWritten: true },
    { head: say("sheet.lightest"), width: 22 * MM, isWritten: true },
    { head: say("sheet.initials"), width: 18 * MM, isWritten: true },
  ]);
  const rows = all.map(({ reference, jarName, quantity, fillG, ounces, volumeMl }) =>
    row(
      columns,
      [
        saying(reference, BOLD),
        saying(jarName, BODY),
        saying(quantity, BODY),
        [...saying(`${fillG}\u00a0g`, TARGET), ...(ounces ? saying(ounces, FINE) : [])],
        saying(`${volumeMl}\u00a0ml`, BODY),
      ],
      lookOf(ROW, say),
    ),
  );
  const title = text(say("sheet.jars"), flow.width, HEADING);
  flow.rows(headRow(columns), rows, [rule(flow.width, 1), space(1.6 * MM), title]);
}

function kept({ label, cautions }: SheetModel, say: Say, width: number): Block {
  return stack([
    text(say("sheet.labelTitle"), width, HEADING),
    text(label.text, width, BODY),
    space(1.4 * MM),
    text(say("sheet.storeTitle"), width, HEADING),
    ...cautions.keep.map((words) => caution(say("sheet.care"), words, width)),
  ]);
}

function promised({ promise, cautions }: SheetModel, say: Say, width: number): Block {
  const { when, firmness, spread, softens } = promise;
  const words = `${when} ${firmness}${spread && ` ${spread}`}.${softens && ` ${softens}`}`;
  return stack([
    text(say("sheet.promiseTitle"), width, HEADING),
    text(words, width, BODY),
    space(1.4 * MM),
    text(say("sheet.customerTitle"), width, HEADING),
    ...cautions.customer.map((each) => listed(each, width)),
  ]);
}

const ENDS = ["started", "ended", "jarsFilled", "actualYield", "durable"] as const;
const HANDS = ["madeBy", "signature", "moment", "releasedBy", "signature", "moment"] as const;

function signOff(say: Say, width: number): Block {
  const each = (count: number) => (width - (count - 1) * GAP) / count;
  const blank = (key: string) => ({
    label: say(`sheet.${key}`),
    unit: key === "actualYield" ? "g" : "",
  });
  return stack([
    rule(width, 1),
    space(1.6 * MM),
    text(say("sheet.signOff"), width, HEADING),
    space(MM),
    blanks(ENDS.map(blank), each(ENDS.length), GAP),
    space(2 * MM),
    blanks([blank("otherwise")], width, GAP),
    space(2 * MM),
    blanks(HANDS.map(blank), each(HANDS.length), GAP),
  ]);
}

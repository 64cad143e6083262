/**
 * The end of a sheet: the jars, what the label and the customer are told, and who made and released it.
 */
import type { SheetModel } from "../batch-sheets.ts";
import { helpers } from "../helpers.ts";
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
import { TARGET, columnsOf, headRow, row, saying } from "./table.ts";

const BOLD: TextType = { ...BODY, isBold: true };
const ROW = 7.2 * MM;
const GAP = 3 * MM;

/** All that stands under the steps. */
export function endOfSheet(flow: Flow, sheet: SheetModel, locale: string): void {
  flow.gap(MM);
  jars(flow, sheet);
  const { width } = flow;
  const left = (width - 7 * MM) * 0.535;
  const right = width - 7 * MM - left;
  flow.gap(1.4 * MM);
  flow.place(
    beside([
      { x: 0, block: kept(sheet, left) },
      { x: left + 7 * MM, block: promised(sheet, locale, right) },
    ]),
  );
  flow.gap(2 * MM);
  flow.place(signOff(width));
}

function jars(flow: Flow, { jars: all }: SheetModel): void {
  const columns = columnsOf(flow.width, [
    { head: "Order", width: 26 * MM },
    { head: "Jar", width: 0 },
    { head: "Jars", width: 13 * MM, isRight: true },
    { head: "Fill each, at least", width: 22 * MM, isRight: true },
    { head: "Takes up about", width: 20 * MM, isRight: true },
    { head: "Filled", width: 22 * MM, isWritten: true },
    { head: "Lightest, net g", width: 22 * MM, isWritten: true },
    { head: "Initials", width: 18 * MM, isWritten: true },
  ]);
  const rows = all.map(({ reference, jarName, quantity, fillG, volumeMl }) =>
    row(
      columns,
      [
        saying(reference, BOLD),
        saying(jarName, BODY),
        saying(String(quantity), BODY),
        saying(`${fillG}\u00a0g`, TARGET),
        saying(`${volumeMl}\u00a0ml`, BODY),
      ],
      { least: ROW },
    ),
  );
  const lead = [rule(flow.width, 1), space(1.6 * MM), text("Jars", flow.width, HEADING)];
  flow.rows(headRow(columns), rows, lead);
}

function kept({ label, cautions }: SheetModel, width: number): Block {
  const all = [...cautions.storage, ...cautions.post];
  return stack([
    text("Ingredients, as the label lists them", width, HEADING),
    text(label.text, width, BODY),
    space(1.4 * MM),
    text("Store and send", width, HEADING),
    ...all.map(({ sentence }) => caution("Take care.", sentence, width)),
  ]);
}

function promised(
  { promise, madeOnISO, cautions }: SheetModel,
  locale: string,
  width: number,
): Block {
  const day = helpers.dateAfter(madeOnISO, promise.afterDays, locale);
  const spread = promise.spread ? ` (the reckoning allows ${promise.spread})` : "";
  const worst = promise.softensAtWorst
    ? `, at the worst ${helpers.celsius(promise.softensAboveLeastC)}`
    : "";
  const softens = promise.softens
    ? ` Softens above ${helpers.celsius(promise.softensAboveC)}${worst}.`
    : "";
  const words =
    `On ${day}, after ${promise.afterDays} days, at ${helpers.celsius(promise.celsius)}: ` +
    `${promise.settled}${spread}.${softens}`;
  return stack([
    text("What was promised", width, HEADING),
    text(words, width, BODY),
    space(1.4 * MM),
    text("Tell the customer, on the label or beside it", width, HEADING),
    ...cautions.customer.map(({ sentence }) => listed(sentence, width)),
  ]);
}

const ENDS = [
  { label: "Started", unit: "" },
  { label: "Ended", unit: "" },
  { label: "Jars filled", unit: "" },
  { label: "Actual yield", unit: "g" },
  { label: "Best before", unit: "" },
];
const HANDS = [
  "Made by",
  "Signature",
  "Date and time",
  "Released by",
  "Signature",
  "Date and time",
];

function signOff(width: number): Block {
  const each = (count: number) => (width - (count - 1) * GAP) / count;
  const otherwise = { label: "What went otherwise, and what was done about it", unit: "" };
  return stack([
    rule(width, 1),
    space(1.6 * MM),
    text("Sign off", width, HEADING),
    space(MM),
    blanks(ENDS, each(ENDS.length), GAP),
    space(2 * MM),
    blanks([otherwise], width, GAP),
    space(2 * MM),
    blanks(
      HANDS.map((label) => ({ label, unit: "" })),
      each(HANDS.length),
      GAP,
    ),
  ]);
}

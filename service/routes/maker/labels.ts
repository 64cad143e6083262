/**
 * Labels of a batch: looked at, printed, and opened again. Bench and owner alike; only the owner prints past what is
 * missing.
 */
import { Hono } from "hono";
import { SIDE_MM } from "../../documents/label-settings.ts";
import { openBench } from "../../batches/bench-day.ts";
import { batchOf } from "../../batches/close.ts";
import {
  type LabelPrint,
  type PaperKind,
  PAPER_WORDS,
  labelPrints,
  printLabels,
} from "../../batches/label-prints.ts";
import { choiceOf, openLabelDesk } from "../../batches/labels.ts";
import {
  labelPageCss,
  labelsOfPrint,
  pictureName,
  renderLabelPicture,
  renderLabels,
} from "../../documents/label-document.ts";
import { readForm } from "../../middleware.ts";
import { type LabelsSay, labelsPage } from "../../pages/maker-labels.ts";
import { momentIn } from "../../pages/maker-pages.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import { numberOf } from "../../typed/figure.ts";
import { textOf } from "../../typed/text.ts";
import { attachment } from "../attachment.ts";
import { makerPage } from "./page.ts";
import type { Signed, SignedContext } from "./visit.ts";

async function deskOf(shop: Shop, c: SignedContext, number: string) {
  const bench = openBench(shop, c.get("owner"));
  const batch = await batchOf(shop, bench.shopId, number);
  if (batch.state === "set-aside") {
    throw new Refusal(
      "make.label.refused",
      `Batch ${number} is set aside, so it has no jars to label. Take it up first.`,
    );
  }
  return await openLabelDesk(shop, bench, batch);
}

/** A print that stands, with its labels as they are now. */
export async function printOf(shop: Shop, c: SignedContext, number: string, sequence: string) {
  const desk = await deskOf(shop, c, number);
  const prints = await labelPrints(shop, desk);
  const print = prints.find((each) => String(each.sequence) === sequence);
  if (!print) throw new Refusal("make.label.unknown", `Batch ${number} has no print ${sequence}.`);
  if (print.voidBecause.length > 0) {
    const because = print.voidBecause.join(" ");
    throw new Refusal(
      "make.label.void",
      `Print ${sequence} is void. ${because} The batch keeps its number; print its labels anew.`,
    );
  }
  return { desk, print, choice: choiceOf(desk, print.market, print.size) };
}

export function labelRoutes(shop: Shop) {
  async function show(c: SignedContext, number: string) {
    const desk = await deskOf(shop, c, number);
    const choice = choiceOf(desk, c.req.query("market") ?? "", c.req.query("size") ?? "");
    const paper = paperOf(c.req.query("paper") ?? "");
    const prints = await labelPrints(shop, desk);
    const isOwner = c.get("visit").role === "owner";
    const model = labelsPage(desk, choice, { prints, paper, isOwner });
    return c.html(await makerPage(shop, c, "batches", "maker-labels", model));
  }

  async function print(c: SignedContext, number: string) {
    const desk = await deskOf(shop, c, number);
    const form = await readForm(c);
    const choice = choiceOf(desk, textOf(form, "market"), textOf(form, "size"));
    const paper = paperOf(textOf(form, "paper"));
    const because = textOf(form, "because");
    const typed = desk.kinds.map((_, at) => textOf(form, `count-${at}`));
    const { personId, name, role } = c.get("visit");
    const isOwner = role === "owner";
    try {
      const counts = desk.kinds.map((kind, at) => ({ kind, count: countOf(typed[at]!) }));
      const hand = { personId, name, isOwner };
      const sequence = await printLabels(shop, desk, choice, { counts, paper, because, hand });
      return c.redirect(`/maker/batches/${number}/labels/printed/${sequence}`, 303);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      const prints = await labelPrints(shop, desk);
      const says: LabelsSay = {
        prints,
        paper,
        isOwner,
        counts: typed,
        because,
        fault: error.message,
      };
      const model = labelsPage(desk, choice, says);
      return c.html(await makerPage(shop, c, "batches", "maker-labels", model), 422);
    }
  }

  return new Hono<Signed>()
    .get("/:number/labels", (c) => show(c, c.req.param("number")))
    .post("/:number/labels", (c) => print(c, c.req.param("number")))
    .get("/:number/labels/page.css", (c) => {
      const [width, height] = [numberOf(c.req.query("w") ?? ""), numberOf(c.req.query("h") ?? "")];
      const isSide = (mm: number) => mm >= SIDE_MM.least && mm <= SIDE_MM.greatest;
      const css = isSide(width) && isSide(height) ? labelPageCss(width, height) : "";
      return c.body(css, 200, { "content-type": "text/css; charset=utf-8" });
    })
    .get("/:number/labels/printed/:sequence", async (c) => {
      const { number, sequence } = c.req.param();
      const { desk, print, choice } = await printOf(shop, c, number, sequence);
      const foot = footOfPrint(c, print, number);
      const backHref = `/maker/batches/${number}/labels`;
      return c.html(renderLabels(desk, choice, print, { foot, backHref }));
    })
    .get("/:number/labels/printed/:sequence/:picture{[0-9]{1,3}\\.svg}", async (c) => {
      const { number, sequence, picture } = c.req.param();
      const { desk, print, choice } = await printOf(shop, c, number, sequence);
      const found = labelsOfPrint(desk, choice, print)[Number.parseInt(picture, 10)];
      if (!found) throw new Refusal("make.label.unknown", "There is no such label in this print.");
      const title = `Label of batch ${number}, ${found.label.kind.jarName}`;
      return c.body(await renderLabelPicture(shop, title, found.drawn), 200, {
        "content-type": "image/svg+xml; charset=utf-8",
        "content-disposition": attachment(pictureName(number, picture)),
      });
    });
}

function paperOf(id: string): PaperKind {
  return id in PAPER_WORDS ? (id as PaperKind) : "a4";
}

/** @throws Refusal make.label.refused when it is no whole number of labels */
function countOf(typed: string): number {
  if (typed === "") return 0;
  const count = numberOf(typed);
  if (Number.isInteger(count) && count >= 0) return count;
  throw new Refusal(
    "make.label.refused",
    `“${typed.slice(0, 40)}” is no number of labels. Write a whole number such as 6. Nothing was printed.`,
  );
}

/** What stands at the foot of a sheet of labels. */
export function footOfPrint(
  c: SignedContext,
  { sequence, at, by }: LabelPrint,
  number: string,
): string {
  const when = momentIn(c.get("owner"))(at);
  return `Batch ${number}, print ${sequence}, ${when}, ${by}. An aid: local codes and your safety assessment come first.`;
}

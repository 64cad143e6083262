/**
 * The labels of a batch: what each kind of jar in it must carry, whether it fits, and what stands in its way.
 */
import { apportion } from "#core/apportion.ts";
import { type Blend, WHOLE } from "#core/blend.ts";
import type { LotInJar } from "#core/make/durability.ts";
import { carriedBy, carriedNowhere } from "#core/make/label-carries.ts";
import { type FactsInForce, factsInForce } from "#core/make/label-facts.ts";
import { type FittedLabel, type TooSmall, fitLabel } from "#core/make/label-fit.ts";
import { type LabelGap, labelGap, stopsPrint } from "#core/make/label-gaps.ts";
import { heightFor } from "#core/make/label-market.ts";
import { type Label, writeLabel } from "#core/make/label.ts";
import { LABEL_FACE } from "#data/library/label-font.ts";
import { type MarketRules, labelMarket } from "#data/library/label-markets.ts";
import { LABEL_WORDS } from "#data/library/label-words.ts";
import { type IngredientOf, pantryOf } from "../actions/pantry.ts";
import { countryName } from "../documents/formats.ts";
import {
  type LabelSettings,
  type MarketSettings,
  labelSettingsOf,
} from "../documents/label-settings.ts";
import type { Shop } from "../ports.ts";
import type { BatchRow } from "../storage/batches.ts";
import { allotLots } from "./allot.ts";
import type { Bench } from "./bench-day.ts";
import { type BatchClosing, actualMgOf, readClosing } from "./closing-shape.ts";
import { needsOf } from "./plan.ts";
import { labelsSaid } from "./label-said.ts";
import { type BatchRun, linesOf, readSheets } from "./sheets.ts";

export type SizeSettings = LabelSettings["sizes"][number];

/** A kind of jar in a batch, as its label tells it from others: by its blend and its content. */
export interface LabelledJar {
  /** Place of its run, from 0. */
  readonly run: number;
  readonly jarName: string;
  readonly fillG: number;
  /** Jars of it in the batch. */
  readonly quantity: number;
  readonly product: string;
  readonly base: string;
}

/** What the labels of a batch are written from. */
export interface LabelDesk {
  readonly bench: Bench;
  readonly batch: BatchRow;
  readonly settings: LabelSettings;
  readonly kinds: readonly LabelledJar[];
  readonly runs: readonly RunInJar[];
}

/** A run as it is, or will be, in the jar. */
interface RunInJar {
  readonly blend: Blend;
  readonly madeOnISO: string;
  readonly lots: readonly LotInJar[];
  readonly lotless: readonly string[];
  /** What its product says for labels. */
  readonly facts: FactsInForce;
}

export interface LabelChoice {
  readonly market: MarketRules;
  readonly marketSettings: MarketSettings;
  readonly size: SizeSettings;
}

/** What tells a kind of jar from the others of its batch. */
export type JarName = Pick<LabelledJar, "run" | "jarName" | "fillG">;

/** Whether two name the same kind of jar. */
export function isSameJar(one: JarName, other: JarName): boolean {
  return one.run === other.run && one.jarName === other.jarName && one.fillG === other.fillG;
}

export interface LabelOfKind {
  readonly kind: LabelledJar;
  readonly label: Label;
  /** Missing when it does not fit. */
  readonly fitted?: FittedLabel;
  readonly gaps: readonly LabelGap[];
}

/** Read what the labels of a batch need, whatever market and size are chosen. */
export async function openLabelDesk(shop: Shop, bench: Bench, batch: BatchRow): Promise<LabelDesk> {
  const { runs } = readSheets(batch.workOrder);
  const ids = [...new Set(runs.flatMap(linesOf).map(({ ingredient }) => ingredient))];
  const closing = batch.state === "made" ? readClosing(batch.closing) : undefined;
  const [{ ingredientOf }, lots, said] = await Promise.all([
    pantryOf(shop, bench.shopId, ids),
    closing ? lotsUsed(shop, batch, closing) : lotsSuggested(shop, bench, runs),
    labelsSaid(shop, bench.shopId, runs),
  ]);
  const settings = labelSettingsOf(bench.particulars, bench.owner.locale);
  return {
    bench,
    batch,
    settings,
    kinds: runs.flatMap(labelledJars),
    runs: runs.map((run, at) => ({
      blend: blendInJar(run, ingredientOf, closing?.runs[at]),
      madeOnISO: run.workOrder.madeOnISO,
      ...lots[at]!,
      facts: factsInForce(said[at]!, settings),
    })),
  };
}

/** The choice named by ids; the first of the settings where an id is not among them. */
export function choiceOf(
  { settings }: Pick<LabelDesk, "settings">,
  marketId: string,
  sizeId: string,
): LabelChoice {
  const { markets, sizes } = settings;
  const marketSettings = markets.find(({ id }) => id === marketId) ?? markets[0]!;
  const size = sizes.find(({ id }) => id === sizeId) ?? sizes[0]!;
  return { market: labelMarket(marketSettings.id)!, marketSettings, size };
}

/** Write and set the label of one kind of jar. */
export function labelOfKind(desk: LabelDesk, kind: LabelledJar, choice: LabelChoice): LabelOfKind {
  const { bench, settings } = desk;
  const { market, marketSettings, size } = choice;
  const { widthMm, heightMm, carries } = size;
  const labelCm2 = (widthMm * heightMm) / 100;
  const { country, responsible } = bench.particulars;
  const { languages } = marketSettings;
  const run = desk.runs[kind.run]!;
  const { shelfLifeMonths, openMonths } = run.facts;
  const { contact, precautions } = settings;
  const label = writeLabel({
    ...run,
    productName: kind.product,
    netG: kind.fillG,
    batchNumber: desk.batch.number,
    market,
    words: languages.map((language) => LABEL_WORDS[language]),
    panelCm2: size.panelCm2 ?? labelCm2,
    responsible: marketSettings.responsible ?? responsible,
    ...{ contact, shelfLifeMonths, openMonths, ownPrecautions: precautions },
    madeIn: { country, names: languages.map((language) => countryName(language, country)) },
  });
  const leastXMm = heightFor(labelCm2, market.leastXHeights.steps);
  const set = fitLabel(carriedBy(carries, label.particulars), size, { leastXMm, face: LABEL_FACE });
  const nowhere = carriedNowhere(
    market,
    settings.sizes.map((each) => each.carries),
  );
  const gaps = [...label.gaps, ...nowhere];
  if ("fitted" in set) return { kind, label, fitted: set.fitted, gaps };
  return { kind, label, gaps: [...gaps, tooSmallGap(size, set.tooSmall)] };
}

/** Gaps of several labels, each once; those that nobody can print past first. */
export function gapsOfAll(labels: readonly LabelOfKind[]): LabelGap[] {
  const all = new Map(labels.flatMap(({ gaps }) => gaps.map((gap) => [JSON.stringify(gap), gap])));
  return [...all.values()].sort(
    (one, other) => Number(stopsPrint(other)) - Number(stopsPrint(one)),
  );
}

function tooSmallGap(
  { name, heightMm, widthMm, carries }: SizeSettings,
  { needsHeightMm, needsWidthMm }: TooSmall,
): LabelGap {
  const tenth = (mm: number) => String(Math.ceil(mm * 10 - 1e-9) / 10);
  const wider = needsWidthMm === undefined ? [] : [`${needsWidthMm} × ${heightMm} mm`];
  if (needsHeightMm === undefined) {
    return labelGap("label.size.too-narrow", {
      subject: name,
      limit: String(widthMm),
      help: wider.map((size) => `A label of ${size} would hold it.`).join(""),
    });
  }
  const larger = [`${widthMm} × ${tenth(needsHeightMm)} mm`, ...wider];
  const split =
    carries === "all" ? " Or let a carton or a folded leaflet carry the ingredients." : "";
  return labelGap("label.size.too-small", {
    subject: name,
    measured: tenth(needsHeightMm),
    limit: String(heightMm),
    help: `A label of ${larger.join(" or ")} would hold them.${split}`,
  });
}

/** Jars of one name and content count together, over the orders of a run. */
function labelledJars({ workOrder }: BatchRun, run: number): LabelledJar[] {
  const { productName: product, baseName: base } = workOrder;
  const kinds = new Map<string, LabelledJar>();
  for (const { jarName, fillG, quantity } of workOrder.jars) {
    const key = JSON.stringify([jarName, fillG]);
    const sofar = kinds.get(key)?.quantity ?? 0;
    kinds.set(key, { run, jarName, fillG, quantity: sofar + quantity, product, base });
  }
  return [...kinds.values()];
}

/** The blend by its shares; once the batch is closed, by what was really weighed. */
function blendInJar(
  run: BatchRun,
  ingredientOf: IngredientOf,
  made: BatchClosing["runs"][number] | undefined,
): Blend {
  const actual = new Map(made?.lines.map((line) => [line.ingredient, actualMgOf(line)]));
  const masses = linesOf(run).map(({ ingredient }) => actual.get(ingredient) ?? 0);
  const isWeighed = masses.some((mg) => mg > 0);
  const weighed = isWeighed ? apportion(WHOLE, masses) : [];
  const parts = linesOf(run).map(({ ingredient: id, share }, at) => {
    const ingredient = ingredientOf(id);
    if (!ingredient) throw new Error(`nobody knows the ingredient ${id}`);
    // A trace is in the jar, so it stays in the list.
    return { ingredient, share: isWeighed ? traceOr(weighed[at]!, masses[at]!) : share };
  });
  return { parts };
}

function traceOr(share: number, massMg: number): number {
  return share === 0 && massMg > 0 ? 1 : share;
}

type LotsInRun = Pick<RunInJar, "lots" | "lotless">;

/** The lots the work order suggests, while the batch is open. */
async function lotsSuggested(
  shop: Shop,
  bench: Bench,
  runs: readonly BatchRun[],
): Promise<LotsInRun[]> {
  const allotted = allotLots(runs, await needsOf(shop, bench, runs));
  return runs.map((run, at) => {
    const lines = linesOf(run);
    const taken = lines.map((line, place) => ({ line, from: allotted[at]![place]! }));
    return {
      lots: taken.flatMap(({ line, from }) =>
        from.flatMap(({ lot }) =>
          lot ? [{ ingredient: line.name, code: lot.code, bestBefore: lot.bestBefore }] : [],
        ),
      ),
      lotless: taken
        .filter(({ from }) => from.some(({ lot }) => lot === undefined))
        .map(({ line }) => line.name),
    };
  });
}

/** The lots that really went in, once it is closed. */
async function lotsUsed(shop: Shop, batch: BatchRow, { runs }: BatchClosing): Promise<LotsInRun[]> {
  const rows = await shop.batchLots.ofBatch(batch.id);
  const dates = new Map(rows.map(({ lotId, bestBefore }) => [lotId, bestBefore]));
  return runs.map(({ lines }) => ({
    lots: lines.flatMap(({ name, portions }) =>
      portions.flatMap(({ lotId, code }) =>
        lotId === null ? [] : [{ ingredient: name, code, bestBefore: dates.get(lotId) ?? null }],
      ),
    ),
    lotless: lines
      .filter(({ portions }) => portions.some(({ lotId }) => lotId === null))
      .map(({ name }) => name),
  }));
}

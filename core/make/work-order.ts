/**
 * The work order: everything a maker needs at the bench for one batch, as data without markup and in no language.
 *
 * A batch is one blend for one or more paid orders. Nothing is asked of a clock or a store: number,
 * date and orders are given. A blend that cannot be judged, weighed or whipped gives findings and
 * no sheet.
 */
import type { Blend } from "../blend.ts";
import { isDay } from "../day.ts";
import { type Finding, finding, weightOf } from "../finding.ts";
import { meltOf } from "../judge/melt.ts";
import type { FirmnessLaw } from "../judge/firmness.ts";
import { type FirmnessAtUse, judgeBlend } from "../judge/verdict.ts";
import { type Caution, type CautionPlace, cautionsFor } from "./cautions.ts";
import { type LabelOrder, labelOrder } from "./label-order.ts";
import { planBatch } from "./plan.ts";
import { type JarLine, type ScaledBatch, gramsOnScale, scaleBatch } from "./scale.ts";
import { STAGES, type Stage, inOrderWeighed, stageOf } from "./stages.ts";
import { DENSITY_TOLERANCE, JUDGE_AFTER_DAYS, type Step, writeSteps } from "./steps.ts";

export interface OrderServed extends JarLine {
  readonly reference: string;
  readonly jarName: string;
}

export interface WorkOrderInput {
  readonly batchNumber: string;
  /** Day of making, "2026-11-25". */
  readonly madeOnISO: string;
  readonly makerName: string;
  readonly productName: string;
  readonly baseName: string;
  readonly blend: Blend;
  readonly orders: readonly OrderServed[];
  /** Bulk made beyond what goes into jars [hundredths of a percent of the fill] */
  readonly lossShare: number;
  /** Smallest step the scale shows [mg] */
  readonly scaleStepMg: number;
  /** Volume fraction of air wanted [-] */
  readonly airFraction: number;
  /** Room temperature the firmness is promised for [C] */
  readonly useCelsius: number;
  /** Firmness law of the kitchen; the published one when not said. */
  readonly law?: FirmnessLaw | undefined;
}

export interface WeighLine {
  /** Place in the order weighed, from 1. */
  readonly line: number;
  /** Id of the ingredient. */
  readonly ingredient: string;
  readonly name: string;
  readonly inci: string;
  /** [hundredths of a percent] */
  readonly share: number;
  readonly targetMg: number;
  /** The target as the scale shows it [g] */
  readonly targetG: string;
}

export interface WeighGroup {
  readonly stage: Stage;
  readonly lines: readonly WeighLine[];
}

export interface JarRow extends OrderServed {
  /** Volume one jar takes up once whipped, rounded up [ml] */
  readonly volumeMl: number;
}

export interface FirmnessPromise extends FirmnessAtUse {
  readonly afterDays: number;
  /** [C] */
  readonly softensAboveC?: number;
  /** Lower edge of its band [C] */
  readonly softensAboveLeastC?: number;
}

export interface WorkOrder extends Pick<
  WorkOrderInput,
  "batchNumber" | "madeOnISO" | "makerName" | "productName" | "baseName" | "lossShare"
> {
  /** Smallest step of the scale, as it shows it [g] */
  readonly scaleStepG: string;
  /** Sum of the weigh list [g] */
  readonly bulkG: string;
  /** Theoretical yield: what the jars take [g] */
  readonly yieldG: string;
  readonly weighList: readonly WeighGroup[];
  readonly jars: readonly JarRow[];
  readonly jarCount: number;
  readonly label: LabelOrder;
  readonly steps: readonly Step[];
  readonly promise: FirmnessPromise;
  /** What the whipped butter should weigh, and how far from it is still right; missing on older sheets [g/ml] */
  readonly density?: { readonly target: number; readonly least: number; readonly greatest: number };
  /** Cautions that belong to no step. */
  readonly cautions: Readonly<Record<"storage" | "post" | "customer", readonly Caution[]>>;
}

/**
 * Write the work order of a batch.
 * @returns the sheet as data; or every finding that stands in its way
 */
export function makeWorkOrder(
  input: WorkOrderInput,
): { readonly workOrder: WorkOrder } | { readonly findings: readonly Finding[] } {
  const { blend, airFraction, useCelsius, law } = input;
  const judgement = judgeBlend(blend, { celsius: [], useCelsius, airFraction, law });
  const scaled = scaleBatch(blend, { ...input, jars: input.orders });
  const against = [
    ...judgement.findings.filter((found) => weightOf(found) !== "tells"),
    ...("findings" in scaled ? scaled.findings : []),
    ...dateFindings(input.madeOnISO),
  ];
  const { firmness } = judgement;
  if ("findings" in scaled || !firmness || against.length > 0) return { findings: against };
  const melt = meltOf(blend)!; // judged firm, so there is fat in it
  const planned = planBatch(blend, melt, airFraction);
  if ("findings" in planned) return planned;
  const { plan } = planned;
  const { softensAboveCelsius, softensAboveLeastCelsius } = judgement;
  const cautions = cautionsFor(blend, melt, plan, softensAboveLeastCelsius);
  const at = (place: CautionPlace) => cautions.filter((each) => each.at === place);
  const grams = (massMg: number) => gramsOnScale(massMg, input.scaleStepMg);
  const { batchNumber, madeOnISO, makerName, productName, baseName, lossShare } = input;
  return {
    workOrder: {
      ...{ batchNumber, madeOnISO, makerName, productName, baseName, lossShare },
      scaleStepG: grams(input.scaleStepMg),
      bulkG: grams(scaled.batch.bulkMg),
      yieldG: String(scaled.batch.fillMg / 1000),
      weighList: weighList(scaled.batch, grams),
      jars: input.orders.map((order) => ({
        ...order,
        volumeMl: Math.ceil(order.fillG / plan.densityGPerMl),
      })),
      jarCount: input.orders.reduce((sum, { quantity }) => sum + quantity, 0),
      label: labelOrder(blend),
      steps: writeSteps(blend, plan, firmness, cautions),
      promise: {
        ...firmness,
        afterDays: JUDGE_AFTER_DAYS,
        ...(softensAboveCelsius === undefined ? {} : { softensAboveC: softensAboveCelsius }),
        ...(softensAboveLeastCelsius === undefined
          ? {}
          : { softensAboveLeastC: softensAboveLeastCelsius }),
      },
      density: {
        target: plan.densityGPerMl,
        least: plan.densityGPerMl * (1 - DENSITY_TOLERANCE),
        greatest: plan.densityGPerMl * (1 + DENSITY_TOLERANCE),
      },
      cautions: { storage: at("storage"), post: at("post"), customer: at("customer") },
    },
  };
}

function weighList({ weighings }: ScaledBatch, grams: (massMg: number) => string): WeighGroup[] {
  const lines = inOrderWeighed(weighings).map(({ ingredient, share, targetMg }, at) => ({
    stage: stageOf(ingredient),
    line: at + 1,
    ingredient: ingredient.id,
    name: ingredient.name,
    inci: ingredient.inci,
    share,
    targetMg,
    targetG: grams(targetMg),
  }));
  return STAGES.map((stage) => ({
    stage,
    lines: lines.filter((each) => each.stage === stage).map(({ stage: _, ...line }) => line),
  })).filter((group) => group.lines.length > 0);
}

function dateFindings(madeOnISO: string): Finding[] {
  if (isDay(madeOnISO)) return [];
  return [
    finding("make.batch.impossible", "the day of making", {
      limit: "a calendar day such as 2026-11-25",
      measured: madeOnISO,
    }),
  ];
}

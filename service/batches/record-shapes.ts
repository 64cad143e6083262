/**
 * What the entries of a batch record say, by their kind. Times are in seconds since 1970, masses in milligrams, shares
 * in hundredths of a percent, days ISO 8601. No money and no customer stands in any of them.
 */
import { WHOLE } from "#core/blend.ts";
import { DECISIONS, type RecordKind } from "#core/make/batch-record.ts";
import { ADVICE_CODES, type Advice } from "#core/make/net-content-advice.ts";
import { FIRMNESS_CLASSES } from "#core/judge/firmness.ts";
import * as z from "zod";

const mg = z.int().min(0);
const share = z.int().min(0).max(WHOLE);
const Range = z.object({ least: z.number().exactOptional(), greatest: z.number().exactOptional() });

const IssuedRun = z.object({
  product: z.string(),
  base: z.string(),
  /** Day of making. */
  madeOn: z.string(),
  lossShare: share,
  loads: z.int().min(1),
  /** What the jars take: the theoretical yield. */
  fillMg: mg,
  lines: z.array(
    z.object({
      ingredient: z.string(),
      name: z.string(),
      inci: z.string(),
      share,
      targetMg: mg,
    }),
  ),
  jars: z.array(
    z.object({
      reference: z.string(),
      jarName: z.string(),
      fillG: z.number(),
      quantity: z.int().min(1),
    }),
  ),
  steps: z.array(
    z.object({ title: z.string(), celsius: Range.exactOptional(), minutes: Range.exactOptional() }),
  ),
  /** Firmness that was promised, at a temperature [C] */
  promise: z.object({
    celsius: z.number(),
    settled: z.enum(FIRMNESS_CLASSES),
    lowest: z.enum(FIRMNESS_CLASSES),
    highest: z.enum(FIRMNESS_CLASSES),
  }),
  /** What the whipped butter should weigh, with its limits [g/ml] */
  density: z
    .object({ target: z.number(), least: z.number(), greatest: z.number() })
    .exactOptional(),
});

const IssuedShape = z.object({
  batch: z.string(),
  kind: z.enum(["orders", "trial"]),
  /** SHA-256 in hex of the stored work order, so that another one put in its place is found. */
  workOrderHash: z.string(),
  runs: z.array(IssuedRun),
});

const ClosedShape = z.object({
  /** SHA-256 in hex of what was stored of the closing. */
  closingHash: z.string(),
  runs: z.array(
    z.object({
      lines: z.array(
        z.object({
          ingredient: z.string(),
          name: z.string(),
          targetMg: mg,
          lots: z.array(
            z.object({
              code: z.string(),
              supplier: z.string(),
              bestBefore: z.string().nullable(),
              usedMg: mg,
            }),
          ),
          why: z.string(),
        }),
      ),
      jarsFilled: z.int().min(0),
      leftMg: mg.nullable(),
      texture: z.enum(FIRMNESS_CLASSES).nullable(),
      celsius: z.number().nullable(),
      cup: z.object({ ul: z.int().positive(), massMg: z.int().positive() }).nullable(),
    }),
  ),
  /** References of orders that came out short. */
  shortOrders: z.array(z.string()),
  note: z.string(),
});

const TakenOverShape = z.object({
  issuedAt: z.int(),
  issued: IssuedShape,
  state: z.enum(["open", "made", "set-aside"]),
  closedAt: z.int().nullable(),
  closed: ClosedShape.nullable(),
  notes: z.array(z.object({ at: z.int(), by: z.string(), words: z.string() })),
});

const Words = z.object({ words: z.string() });

const AdviceShape: z.ZodType<Advice> = z.object({
  code: z.enum(ADVICE_CODES),
  massesMg: z.record(z.string(), mg),
  counts: z.record(z.string(), z.int().min(0)),
  jars: z.array(z.object({ place: z.int().min(1), mg: z.int() })),
  more: z.int().min(0),
});

const NetContentShape = z.object({
  /** Place of the run in the batch, from 0. */
  run: z.int().min(0),
  jarName: z.string(),
  labelMg: mg,
  jars: z.int().min(1),
  rule: z.enum(["eu", "us"]),
  tareMg: mg,
  /** Of each jar weighed, without the jar, in the order typed. */
  contentsMg: z.array(z.int()),
  verdict: z.enum(["holds", "falls-short", "cannot-judge"]),
  /** What was found and what to do, in English; and in codes for other languages, which older entries lack. */
  sentences: z.array(z.string()),
  found: z.array(AdviceShape).exactOptional(),
});

export const BODIES = {
  issued: IssuedShape,
  "taken-over": TakenOverShape,
  "set-aside": z.object({ orders: z.array(z.string()) }),
  "taken-up": z.object({ orders: z.array(z.string()) }),
  closed: ClosedShape,
  "closing-amended": Words,
  started: z.object({
    checks: z.array(z.string()),
    missing: z.array(z.string()),
    words: z.string(),
  }),
  step: z.object({
    title: z.string(),
    run: z.int(),
    celsius: z.number().nullable(),
    words: z.string(),
  }),
  deviation: z.object({ words: z.string(), done: z.string() }),
  "retained-sample": z.object({
    massMg: mg,
    place: z.string(),
    keepUntil: z.string(),
    words: z.string(),
  }),
  note: Words,
  "net-content": NetContentShape,
  "label-override": z.object({
    /** What was printed all the same. */
    what: z.string(),
    missing: z.array(z.string()),
    because: z.string(),
  }),
  "lot-correction": z.object({
    run: z.int().min(0),
    what: z.enum(["corrected", "taken-back"]),
    because: z.string(),
    /** The work order as it is made by from now on. */
    issued: IssuedShape,
  }),
  "labels-printed": z.object({
    /** Label, size, market and paper in words. */
    what: z.string(),
    market: z.string(),
    /** Id of the size in the settings. */
    size: z.string(),
    paper: z.string(),
    labels: z.array(
      z.object({
        run: z.int().min(0),
        jarName: z.string(),
        fillG: z.number(),
        count: z.int().min(1),
        /** The list as it was printed, and what stood there of durability; empty where there was none. */
        ingredients: z.string(),
        durability: z.string(),
      }),
    ),
  }),
  correction: z.object({
    /** Place of the entry that is corrected. */
    of: z.int().min(1),
    because: z.string(),
    words: z.string(),
  }),
  release: z.object({ decision: z.enum(DECISIONS), because: z.string() }),
} as const satisfies Record<RecordKind, z.ZodType>;

export type BodyOf<Kind extends RecordKind> = z.infer<(typeof BODIES)[Kind]>;
export type Issued = BodyOf<"issued">;
export type ClosedBody = BodyOf<"closed">;

/** An entry whose body has the shape of its kind. */
export type ReadEntry = {
  [Kind in RecordKind]: {
    readonly sequence: number;
    readonly at: number;
    readonly by: string;
    readonly kind: Kind;
    readonly body: BodyOf<Kind>;
  };
}[RecordKind];

/**
 * The fields of the closing form as they were typed, and as they are filled in before anybody types.
 */
import { textOf, textsOf } from "../typed/text.ts";
import { gramsOnScale } from "#core/make/scale.ts";
import type { Allotted } from "./allot.ts";
import { type BatchRun, linesOf } from "./sheets.ts";

export interface PortionFields {
  /** Id of a lot; empty when it is not known. */
  readonly lot: string;
  readonly grams: string;
}

export interface LineFields {
  readonly portions: readonly PortionFields[];
  readonly why: string;
}

const RUN_FIELDS = ["jars", "left", "texture", "celsius", "cupMl", "cupG"] as const;

export interface RunFields extends Readonly<Record<(typeof RUN_FIELDS)[number], string>> {
  readonly lines: readonly LineFields[];
}

export interface ClosingFields {
  readonly runs: readonly RunFields[];
  /** Ids of the orders that were filled whole. */
  readonly filled: readonly string[];
  readonly note: string;
}

/** More lots than this in one line are not weighed at a bench. */
const PORTIONS_MOST = 12;

/** Read what was typed. */
export function closingFieldsOf(form: FormData, runs: readonly BatchRun[]): ClosingFields {
  const text = (name: string) => textOf(form, name);
  return {
    runs: runs.map((run, r) => ({
      lines: linesOf(run).map((_, l) => {
        const portions: PortionFields[] = [];
        for (let p = 0; p < PORTIONS_MOST && form.has(`g-${r}-${l}-${p}`); p++) {
          portions.push({ lot: text(`lot-${r}-${l}-${p}`), grams: text(`g-${r}-${l}-${p}`) });
        }
        return { portions, why: text(`why-${r}-${l}`) };
      }),
      ...(Object.fromEntries(RUN_FIELDS.map((name) => [name, text(`${name}-${r}`)])) as Record<
        (typeof RUN_FIELDS)[number],
        string
      >),
    })),
    filled: textsOf(form, "filled"),
    note: text("note"),
  };
}

/** The form before anybody has typed: all on target, from the lots that expire first. */
export function closingOnTarget(
  runs: readonly BatchRun[],
  allotted: readonly (readonly (readonly Allotted[])[])[],
  orderIds: readonly string[],
  scaleStepMg: number,
): ClosingFields {
  return {
    runs: runs.map((run, r) => ({
      lines: linesOf(run).map((_, l) => ({
        portions: allotted[r]![l]!.map(({ lot, takeMg }) => ({
          lot: lot?.id ?? "",
          grams: gramsOnScale(takeMg, scaleStepMg),
        })),
        why: "",
      })),
      jars: String(run.workOrder.jarCount),
      ...{ left: "", texture: "", celsius: "", cupMl: "", cupG: "" },
    })),
    filled: orderIds,
    note: "",
  };
}

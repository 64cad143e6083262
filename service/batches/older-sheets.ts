/**
 * Work orders as they were stored before papers had languages: their sentences are English and stay so, whatever
 * language the rest of the paper is in, because they are what the batch was issued by.
 */
import type { Caution } from "#core/make/cautions.ts";
import type { Said } from "#core/make/said.ts";
import type { WorkOrder } from "#core/make/work-order.ts";

type CautionStored = Caution & { readonly sentence?: string };
type SaidStored = Said | string;

/** A stored work order as it is read now. */
export function readWorkOrder(stored: WorkOrder): WorkOrder {
  const { cautions } = stored;
  return {
    ...stored,
    weighList: stored.weighList.map((group) => ({
      ...group,
      // Older still are lines that name no ingredient: it is known by its name.
      lines: group.lines.map((line) => ({ ...line, ingredient: line.ingredient ?? line.name })),
    })),
    steps: stored.steps.map((step) => ({
      ...step,
      sentences: step.sentences.map(asSaid),
      cautions: step.cautions.map(asCaution),
    })),
    cautions: {
      storage: cautions.storage.map(asCaution),
      post: cautions.post.map(asCaution),
      customer: cautions.customer.map(asCaution),
    },
  };
}

function asSaid(stored: SaidStored): Said {
  return typeof stored === "string" ? { code: "", figures: {}, words: stored } : stored;
}

function asCaution({ sentence, ...caution }: CautionStored): Caution {
  return sentence === undefined ? caution : { ...caution, figures: {}, words: sentence };
}

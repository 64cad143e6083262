/**
 * Document models -> HTML. Templates are precompiled; nothing is compiled while a request waits.
 */
import { handlebars, templates } from "#templates";
import type { FirmnessPromise, WorkOrder } from "#core/make/work-order.ts";
import { helpers } from "./helpers.ts";

handlebars.registerHelper(helpers);

/** What a document needs of the page it stands on. */
export interface DocumentPage {
  /** Addresses of style sheets; the page carries no style or script of its own. */
  readonly stylesheets: readonly string[];
  /** BCP 47 tag for dates. The words of the sheet are English. */
  readonly locale: string;
  /** The jars were paid at the practice till: the sheet says so. */
  readonly practice: boolean;
  /** Where the link at the top of the screen leads back to. */
  readonly backHref?: string;
}

/**
 * Fill a template.
 * @param name path under `service/` without the ending, such as "documents/work-order"
 * @returns HTML with every value escaped
 * @throws when there is no such template, or the model lacks a field it asks for
 */
export function renderTemplate(name: string, model: object): string {
  const template = templates[name];
  if (!template) throw new Error(`no template ${name}`);
  return template(model);
}

/** The work order as a complete HTML page, the same on screen and on paper. */
export function renderWorkOrder(workOrder: WorkOrder, page: DocumentPage): string {
  const [weigh, ...steps] = workOrder.steps;
  return renderTemplate("documents/work-order", {
    ...workOrder,
    weigh,
    steps: steps.map((step, at) => ({ ...step, number: at + 2 })), // weighing is the first
    promise: promiseWords(workOrder.promise),
    page: { backHref: undefined, ...page },
  });
}

/** Which clauses of the promise can be written. */
function promiseWords(promise: FirmnessPromise) {
  const { lowest, highest, softensAboveC, softensAboveLeastC } = promise;
  return {
    ...promise,
    spread: lowest === highest ? "" : `${lowest} to ${highest}`,
    softens: softensAboveC !== undefined, // "#if" takes 0 °C for missing
    softensAtWorst: softensAboveLeastC !== undefined,
  };
}

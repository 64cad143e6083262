/**
 * Document models -> HTML. Templates are precompiled; nothing is compiled while a request waits.
 */
import { handlebars, templates } from "#templates";
import { helpers } from "./helpers.ts";

handlebars.registerHelper(helpers);

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

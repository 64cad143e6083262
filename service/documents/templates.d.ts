/** What `precompile.mjs` writes into `.build/templates`. */
declare module "#templates" {
  /** An instance of our own: helpers and partials registered here reach no other code. */
  export const handlebars: Pick<typeof import("handlebars"), "registerHelper">;
  /** By path under `service/` without the ending: "documents/work-order". */
  export const templates: Readonly<Record<string, import("handlebars").TemplateDelegate>>;
}

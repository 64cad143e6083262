/**
 * Precompiles every template under `service/` into one module, because an edge runtime forbids code
 * from strings.
 *
 * A template is named by its path without the ending ("documents/work-order"). A file whose name
 * begins with an underscore is a partial, named without it ("documents/caution"). Fields are
 * strict: a template that asks for what its model does not have fails loudly instead of printing a
 * blank.
 */
import { mkdir, readFile, readdir, writeFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import Handlebars from "handlebars";

const SERVICE = fileURLToPath(new URL("..", import.meta.url));
const TARGET = fileURLToPath(new URL("../../.build/templates", import.meta.url));

/** Helpers that templates may call; `helpers.ts` holds one for each. */
export const HELPER_NAMES = ["money", "percent", "percentIn", "say", "saidIn"];

const OPTIONS = {
  strict: true,
  // A partial stands as it is written: indented with its place it would be rewritten at every call.
  preventIndent: true,
  knownHelpersOnly: true,
  knownHelpers: Object.fromEntries(HELPER_NAMES.map((name) => [name, true])),
};

/**
 * Precompile all templates.
 * @param {string} [target] folder the module is written to
 * @returns {Promise<{ templates: string[], partials: string[] }>} names found
 */
export async function precompileTemplates(target = TARGET) {
  const templates = [];
  const partials = [];
  const lines = [
    `import runtime from "handlebars/runtime.js";`,
    `export const handlebars = runtime.create();`,
    `export const templates = {};`,
    `const block = ${block};`,
  ];
  for (const path of (await readdir(SERVICE, { recursive: true })).sort()) {
    if (!path.endsWith(".hbs")) continue;
    const name = path.slice(0, -".hbs".length).replaceAll("\\", "/");
    const source = await readFile(`${SERVICE}${path}`, "utf8");
    const spec = shorten(Handlebars.precompile(withoutIndents(source), OPTIONS));
    if (/(^|\/)_[^/]*$/.test(name)) {
      const partial = name.replace(/_([^/]*)$/, "$1");
      partials.push(partial);
      lines.push(
        `handlebars.registerPartial(${JSON.stringify(partial)}, handlebars.template(${spec}));`,
      );
    } else {
      templates.push(name);
      lines.push(`templates[${JSON.stringify(name)}] = handlebars.template(${spec});`);
    }
  }
  await mkdir(target, { recursive: true });
  await writeFile(`${target}/index.js`, `${lines.join("\n")}\n`);
  return { templates, partials };
}

/** White space that no browser shows, left out; a template with text that is shown as typed keeps all of its own. */
function withoutIndents(source) {
  const template = Handlebars.parse(source);
  if (/<(pre|textarea)\b/.test(source)) return template;
  const visitor = new Handlebars.Visitor();
  visitor.ContentStatement = (content) => {
    content.value = content.value.replaceAll(/[ \t\n]*\n[ \t\n]*/g, "\n").replaceAll(/ {2,}/g, " ");
  };
  visitor.accept(template);
  return template;
}

const PLACE = String.raw`\{"start":\{"line":\d+,"column":\d+\},"end":\{"line":\d+,"column":\d+\}\}`;
const PLACES = new RegExp(`,(?:"loc":| )${PLACE}`, "g");
const OLD_RUNTIMES = /container\.lookupProperty \|\| function\([^{]*\{[^{}]*\{[^{}]*\}[^{}]*\}/g;

const PROGRAM = String.raw`container\.program\((\d+), data, 0(, blockParams, depths)?\)`;
const BLOCKS = new RegExp(
  String.raw`\(\(stack1 = lookupProperty\(helpers,("\w+")\)\.call\(` +
    String.raw`(?:alias\d+|depth0 != null \? depth0 : \(container\.nullContext \|\| \{\}\)),([^{}]+),` +
    String.raw`\{"name":\1,"hash":\{\},"fn":${PROGRAM},"inverse":(?:container\.noop|${PROGRAM}),"data":data\}\)\)` +
    String.raw` != null \? stack1 : ""\)`,
  "g",
);

/**
 * Half of what the compiler writes: without the line and column of every expression (a missing field is still named),
 * without what runtimes before this one needed, and with one function for what every block repeats. Text of a template
 * cannot match, as its quotes are escaped.
 */
function shorten(spec) {
  return spec
    .replaceAll(PLACES, "")
    .replaceAll(OLD_RUNTIMES, "container.lookupProperty")
    .replaceAll(BLOCKS, (_, name, value, fn, outer = "", inverse = "-1") => {
      return `block(container,helpers,depth0,data,${name},${value},${fn},${inverse}${outer})`;
    });
}

/** A block helper called as the compiler has it called; written into the module. */
function block(container, helpers, depth0, data, name, value, fn, inverse, blockParams, depths) {
  const program = (at) =>
    at < 0 ? container.noop : container.program(at, data, 0, blockParams, depths);
  const options = { name, hash: {}, fn: program(fn), inverse: program(inverse), data };
  const helper = container.lookupProperty(helpers, name);
  return helper.call(depth0 ?? container.nullContext ?? {}, value, options) ?? "";
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { templates, partials } = await precompileTemplates();
  process.stdout.write(`${templates.length} templates, ${partials.length} partials\n`);
}

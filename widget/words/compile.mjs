/**
 * Compiles message files (ICU MessageFormat in JSON) into modules of small functions when something is built, so that
 * no page and no request ever parses a message. `words/fr.json` and `words/more.fr.json` are both French.
 */
import MessageFormat from "@messageformat/core";
import compileModule from "@messageformat/core/compile-module.js";
import { readFile } from "node:fs/promises";

const MESSAGES = /(widget|service)[\\/]words[\\/](?:[\w-]+\.)*([a-z]{2})\.json$/;

/**
 * The text of a module with one export a chapter, so that a script takes only the chapters that it imports.
 * @param {string} path of the file
 * @param {boolean} isStrict a message that is not given all it asks for throws instead of printing "undefined"
 */
export async function compileWords(path, isStrict) {
  const language = MESSAGES.exec(path)?.[2] ?? "";
  const chapters = JSON.parse(await readFile(path, "utf8"));
  const format = new MessageFormat(language, { requireAllArguments: isStrict, strict: true });
  const imports = new Set();
  const exports = Object.entries(chapters).map(([chapter, messages]) => {
    const [before = "", after = ""] = compileModule(format, messages).split("export default ");
    for (const line of before.split("\n")) imports.add(line);
    return `export const ${chapter} = ${after};`;
  });
  return [...mergeImports(imports), ...exports].join("\n");
}

/** Chapters import what they need of the runtime; a module may import a name once. */
function mergeImports(lines) {
  const names = new Map();
  for (const line of lines) {
    const found = /^import \{ (.+) \} from "(.+)";$/.exec(line);
    if (!found) continue;
    const known = names.get(found[2]) ?? new Set();
    for (const name of found[1].split(", ")) known.add(name);
    names.set(found[2], known);
  }
  return [...names].map(([from, all]) => `import { ${[...all].join(", ")} } from "${from}";`);
}

/**
 * For what is shipped.
 * @type {import("esbuild").Plugin}
 */
export const compiledWords = {
  name: "compiled-words",
  setup({ onLoad }) {
    onLoad({ filter: MESSAGES }, async ({ path }) => ({
      contents: await compileWords(path, false),
      loader: "js",
    }));
  },
};

const COMPILED = "\0words:";

/**
 * For tests, where a message that lacks an argument throws. The compiled module goes by another name, because JSON is
 * what Vite would read under the old one.
 * @type {import("vite").Plugin}
 */
export const strictWords = {
  name: "strict-words",
  enforce: "pre",
  async resolveId(source, importer) {
    if (!source.endsWith(".json")) return undefined;
    const resolved = await this.resolve(source, importer, { skipSelf: true });
    return resolved && MESSAGES.test(resolved.id)
      ? `${COMPILED}${resolved.id.replace(/\.json$/, "")}`
      : undefined;
  },
  async load(id) {
    if (!id.startsWith(COMPILED)) return undefined;
    const path = `${id.slice(COMPILED.length)}.json`;
    this.addWatchFile(path);
    return compileWords(path, true);
  },
};

/**
 * How the widget is bundled into its scripts. Style sheets go in as minified text, because a
 * constructed style sheet wants text.
 */
import { transform } from "esbuild";
import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { compiledWords } from "./words/compile.mjs";

/** @type {import("esbuild").Plugin} */
const minifiedStyles = {
  name: "minified-styles",
  setup({ onLoad }) {
    onLoad({ filter: /widget.styles.\w+\.css$/ }, async ({ path }) => {
      const css = await readFile(path, "utf8");
      const { code } = await transform(css, { loader: "css", minify: true });
      return { contents: code.trim(), loader: "text" };
    });
  },
};

/**
 * The page never meets a finding of the bench, so its words stay out of the script.
 * @type {import("esbuild").Plugin}
 */
const withoutBenchWords = {
  name: "without-bench-words",
  setup({ onLoad }) {
    onLoad({ filter: /core.finding-bench\.ts$/ }, () => ({
      contents: "export const BENCH_KINDS = {};",
    }));
  },
};

/**
 * Lots and their certificates are met at the maker's bench, never in the page, so what they change stays out of the
 * script. Should one come all the same, the page must not show a figure the service would not.
 * @type {import("esbuild").Plugin}
 */
const withoutLots = {
  name: "without-lots",
  setup({ onLoad }) {
    onLoad({ filter: /core.judge.measured-curve\.ts$/ }, () => ({
      contents: 'export const measuredSolids = () => { throw Error("no lots here") };',
    }));
  },
};

/**
 * The page's own words come with its language, so the core's English stays out of the script. What is said in the page
 * is said with the words of a catalogue; a sentence that forgot to would throw.
 * @type {import("esbuild").Plugin}
 */
const withoutCoreWords = {
  name: "without-core-words",
  setup({ onLoad }) {
    onLoad({ filter: /core.words.en\.json$/ }, () => ({
      contents: '{"findings":{},"changes":{},"families":{},"namesInSentence":""}',
      loader: "json",
    }));
  },
};

const common = {
  bundle: true,
  minify: true,
  platform: "browser",
  target: "es2022",
  charset: "utf8",
  legalComments: "none",
  logLevel: "warning",
  plugins: [minifiedStyles, compiledWords, withoutBenchWords, withoutLots],
};

/**
 * Options for esbuild; the caller adds where the script goes.
 *
 * The target is browsers from 2024 on: the page uses `light-dark()`, container queries and
 * `AbortSignal.timeout`. A classic script does not know its own address by `import.meta`, but can ask the document
 * while it is first run.
 * @param {"esm" | "iife"} format ES module, or classic script that leaves no global behind
 * @returns {import("esbuild").BuildOptions}
 */
export function widgetBuild(format) {
  const entryPoints = [fileURLToPath(new URL("./index.ts", import.meta.url))];
  const define = format === "iife" ? { "import.meta.url": "document.currentScript.src" } : {};
  return { ...common, plugins: [...common.plugins, withoutCoreWords], entryPoints, format, define };
}

/**
 * The second script, an ES module that either form of the first one fetches from beside itself when it is needed.
 * @returns {import("esbuild").BuildOptions}
 */
export function nearestBuild() {
  const entryPoints = [fileURLToPath(new URL("./nearest.ts", import.meta.url))];
  const plugins = [...common.plugins, withoutCoreWords];
  return { ...common, plugins, entryPoints, format: "esm" };
}

/**
 * The third script, an ES module: wishes, comparing, sharing, opening what was kept. Its words are a script too, and
 * what it judges is judged by the first.
 * @returns {import("esbuild").BuildOptions}
 */
export function moreBuild() {
  const entryPoints = [fileURLToPath(new URL("./more/more.ts", import.meta.url))];
  return {
    ...common,
    plugins: [...common.plugins, withoutCoreWords],
    entryPoints,
    format: "esm",
  };
}

/**
 * The search behind the wishes, an ES module that the third script fetches once something is wished.
 * @returns {import("esbuild").BuildOptions}
 */
export function wishesBuild() {
  const entryPoints = [fileURLToPath(new URL("./wishes.ts", import.meta.url))];
  return { ...common, entryPoints, format: "esm" };
}

/** Languages with words. */
export const LANGUAGES = ["de", "en", "es", "fr"];

/**
 * The words of a language, an ES module that the first script fetches from beside itself: those of the page and those
 * of the core. A chapter is a set of words for another script: "more" takes `words/more.fr.json` instead.
 * @param {string} language one of `LANGUAGES`
 * @param {string} [chapter]
 * @returns {import("esbuild").BuildOptions}
 */
export function wordsBuild(language, chapter) {
  const file = chapter ? `${chapter}.${language}` : language;
  const lines = [`export * as words from "./words/${file}.json";`];
  if (!chapter) lines.push(`export { default as core } from "../core/words/${language}.json";`);
  if (chapter === "more") {
    lines.push(`export { default as wishes } from "../core/words/wishes.${language}.json";`);
  }
  const stdin = {
    contents: lines.join("\n"),
    resolveDir: fileURLToPath(new URL(".", import.meta.url)),
  };
  return { ...common, stdin, format: "esm" };
}

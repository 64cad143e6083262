/**
 * How the widget is bundled into its two scripts. Style sheets go in as minified text, because a
 * constructed style sheet wants text.
 */
import { transform } from "esbuild";
import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";

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

const common = {
  bundle: true,
  minify: true,
  platform: "browser",
  target: "es2022",
  charset: "utf8",
  legalComments: "none",
  logLevel: "warning",
  plugins: [minifiedStyles, withoutBenchWords, withoutLots],
};

/**
 * Options for esbuild; the caller adds where the script goes.
 *
 * The target is browsers from 2024 on: the page uses `light-dark()`, container queries and
 * `AbortSignal.any`. A classic script does not know its own address by `import.meta`, but can ask the document while it
 * is first run.
 * @param {"esm" | "iife"} format ES module, or classic script that leaves no global behind
 * @returns {import("esbuild").BuildOptions}
 */
export function widgetBuild(format) {
  const entryPoints = [fileURLToPath(new URL("./index.ts", import.meta.url))];
  const define = format === "iife" ? { "import.meta.url": "document.currentScript.src" } : {};
  return { ...common, entryPoints, format, define };
}

/**
 * The second script, an ES module that either form of the first one fetches from beside itself when it is needed.
 * @returns {import("esbuild").BuildOptions}
 */
export function nearestBuild() {
  const entryPoints = [fileURLToPath(new URL("./nearest.ts", import.meta.url))];
  return { ...common, entryPoints, format: "esm" };
}

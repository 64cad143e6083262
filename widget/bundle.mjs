/**
 * How the widget is bundled into one script. Style sheets go in as minified text, because a
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
 * Options for esbuild; the caller adds where the script goes.
 *
 * The target is browsers from 2024 on: the page uses `light-dark()`, container queries and
 * `AbortSignal.any`.
 * @param {"esm" | "iife"} format ES module, or classic script that leaves no global behind
 * @returns {import("esbuild").BuildOptions}
 */
export function widgetBuild(format) {
  return {
    entryPoints: [fileURLToPath(new URL("./index.ts", import.meta.url))],
    bundle: true,
    minify: true,
    format,
    platform: "browser",
    target: "es2022",
    charset: "utf8",
    legalComments: "none",
    logLevel: "warning",
    plugins: [minifiedStyles],
  };
}

import type { BuildOptions } from "esbuild";

/** Options for esbuild: one minified script, an ES module or a classic script that leaves no global behind. */
export function widgetBuild(format: "esm" | "iife"): BuildOptions;

/** Options for esbuild: the second script, which finds the nearest orderable blend of a refused one. */
export function nearestBuild(): BuildOptions;

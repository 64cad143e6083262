import type { BuildOptions } from "esbuild";

/** Options for esbuild: one minified script, an ES module or a classic script that leaves no global behind. */
export function widgetBuild(format: "esm" | "iife"): BuildOptions;

/** Options for esbuild: the second script, which finds the nearest orderable blend of a refused one. */
export function nearestBuild(): BuildOptions;

/** Options for esbuild: the third script, with wishes, comparing, sharing and opening. */
export function moreBuild(): BuildOptions;

/** Options for esbuild: the search behind the wishes. */
export function wishesBuild(): BuildOptions;

/** Languages with words. */
export const LANGUAGES: readonly string[];

/** Options for esbuild: the words of a language, or a chapter of them for another script. */
export function wordsBuild(language: string, chapter?: string): BuildOptions;

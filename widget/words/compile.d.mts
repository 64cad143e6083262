import type { Plugin as EsbuildPlugin } from "esbuild";
import type { Plugin as VitePlugin } from "vite";

/** For what is shipped: an import of a message file brings its compiled functions. */
export const compiledWords: EsbuildPlugin;

/** The same for tests, where a message that lacks an argument throws. */
export const strictWords: VitePlugin;

/**
 * The text of a module with one export a chapter.
 * @param isStrict a message that is not given all it asks for throws instead of printing "undefined"
 */
export function compileWords(path: string, isStrict: boolean): Promise<string>;

/**
 * Precompiles what the service says to customers, because an edge runtime forbids code from strings. A message that is
 * not given all it asks for throws, as a template does.
 */
import { mkdir, writeFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { compileWords } from "../../widget/words/compile.mjs";

const HERE = fileURLToPath(new URL(".", import.meta.url));
const TARGET = fileURLToPath(new URL("../../.build/words", import.meta.url));

/** Languages with words, English first: it stands where a language has none. */
const LANGUAGES = ["en", "de", "es", "fr"];

/** Write one module a language, and one that names them all. */
export async function precompileWords(target = TARGET) {
  await mkdir(target, { recursive: true });
  for (const language of LANGUAGES) {
    await writeFile(
      `${target}/${language}.js`,
      await compileWords(`${HERE}${language}.json`, true),
    );
  }
  const index = LANGUAGES.map((each) => `export * as ${each} from "./${each}.js";`);
  await writeFile(`${target}/index.js`, `${index.join("\n")}\n`);
}

/**
 * Precompiles what the service says to customers and writes on papers, because an edge runtime forbids code from
 * strings. A message that is not given all it asks for throws, as a template does.
 *
 * The languages of a message lie side by side, and a message without plurals or choices stays its text, with its
 * {figures} in it: packed, what is said in four languages is then a fifth smaller, which counts at the edge.
 */
import MessageFormat from "@messageformat/core";
import compileModule from "@messageformat/core/compile-module.js";
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";

const HERE = fileURLToPath(new URL(".", import.meta.url));
const TARGET = fileURLToPath(new URL("../../.build/words", import.meta.url));

/** Languages with words, English first: it stands where a language has none. */
const LANGUAGES = ["en", "de", "es", "fr"];

/** Write one module: messages by chapter, key and language. */
export async function precompileWords(target = TARGET) {
  const files = await Promise.all(
    LANGUAGES.map(async (language) => [
      language,
      JSON.parse(await readFile(`${HERE}${language}.json`, "utf8")),
    ]),
  );
  const [plain, grammatical] = [{}, {}];
  for (const [chapter, keys] of Object.entries(files[0][1])) {
    for (const key of Object.keys(keys)) {
      const said = files.map(([language, words]) => [language, words[chapter]?.[key] ?? ""]);
      const into = said.some(([, words]) => GRAMMAR.test(words)) ? grammatical : plain;
      (into[chapter] ??= {})[key] = Object.fromEntries(said);
    }
  }
  const format = new MessageFormat(LANGUAGES, { requireAllArguments: true, strict: true });
  const compiled = compileModule(format, grammatical).replace(
    "export default",
    "export const said =",
  );
  await mkdir(target, { recursive: true });
  await writeFile(
    `${target}/index.js`,
    `${compiled};\nexport const texts = ${JSON.stringify(plain)};\n`,
  );
}

/** Plurals and choices; an apostrophe is a mark of the grammar, too. */
const GRAMMAR = /\{\w+,|'/;

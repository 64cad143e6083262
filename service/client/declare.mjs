/**
 * Writes the declarations of `softset/client` for those who install the package. They name the core's own types, so
 * what the service answers and what the client says of it cannot drift apart.
 */
import ts from "typescript";
import { mkdirSync, writeFileSync } from "node:fs";
import { dirname, relative } from "node:path";
import { fileURLToPath } from "node:url";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));

/** @param {string} target folder the declarations are written to */
export function declareClient(target = `${ROOT}.build/types`) {
  const { config } = ts.readConfigFile(`${ROOT}tsconfig.json`, (path) => ts.sys.readFile(path));
  const { options } = ts.convertCompilerOptionsFromJson(
    { ...config.compilerOptions, declaration: true, emitDeclarationOnly: true, noEmit: false },
    ROOT,
  );
  // `npm run types` checks them; here they are only written down.
  const program = ts.createProgram([`${ROOT}service/client/client.ts`], {
    ...options,
    noCheck: true,
    rootDir: ROOT,
    outDir: target,
  });
  program.emit(undefined, (file, text) => {
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, pointing(text, relative(dirname(file), target) || "."));
  });
}

/** Whoever installs the package has neither our `#` names nor endings of source files. */
function pointing(text, up) {
  return text.replaceAll(
    /(from |import\()"(#core\/|\.\.?\/)([^"]+)\.ts"/g,
    (_, how, start, rest) => {
      return `${how}"${start === "#core/" ? `${up}/core/` : start}${rest}.js"`;
    },
  );
}

if (process.argv[1] === fileURLToPath(import.meta.url)) declareClient();

/**
 * Builds what runs: page templates, the service, the command line, the storefront script and the style sheets.
 * Everything lands in `.build`, which can be deleted at any time.
 */
import { build, transformSync } from "esbuild";
import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  readFileSync,
  readdirSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { fileURLToPath } from "node:url";
import {
  LANGUAGES,
  moreBuild,
  nearestBuild,
  widgetBuild,
  wishesBuild,
  wordsBuild,
} from "../widget/bundle.mjs";
import { unwrapFont } from "./documents/pdf/unwrap-font.mjs";
import { precompileTemplates } from "./documents/precompile.mjs";
import { precompileWords } from "./words/precompile.mjs";

const ROOT = fileURLToPath(new URL("..", import.meta.url));

const node = {
  bundle: true,
  platform: "node",
  format: "esm",
  target: "node20",
  packages: "external",
  sourcemap: "linked",
  legalComments: "none",
  logLevel: "warning",
  absWorkingDir: ROOT,
};

/** Build all of it over what was there, so that whoever is reading it goes on; throws when any part fails. */
export async function buildAll() {
  await Promise.all([precompileTemplates(), precompileWords()]);
  await Promise.all([
    build({ ...node, entryPoints: ["service/node.ts"], outfile: ".build/service.js" }),
    build({
      ...node,
      platform: "neutral",
      entryPoints: ["service/client/client.ts"],
      outfile: ".build/client.js",
    }),
    build({
      ...node,
      entryPoints: ["service/softset.ts"],
      outfile: ".build/softset.js",
      banner: { js: "#!/usr/bin/env node" },
    }),
    build({ ...widgetBuild("esm"), outfile: `${ROOT}.build/assets/softset.js` }),
    build({
      ...node,
      platform: "browser",
      packages: "bundle",
      target: "es2022",
      minify: true,
      sourcemap: false,
      entryPoints: filesOf("service/pages/scripts", ".ts"),
      outdir: ".build/assets",
    }),
    build({ ...widgetBuild("iife"), outfile: `${ROOT}.build/assets/softset.classic.js` }),
    build({ ...nearestBuild(), outfile: `${ROOT}.build/assets/softset.nearest.js` }),
    build({ ...moreBuild(), outfile: `${ROOT}.build/assets/softset.more.js` }),
    build({ ...wishesBuild(), outfile: `${ROOT}.build/assets/softset.wishes.js` }),
    ...LANGUAGES.flatMap((language) => [
      build({
        ...wordsBuild(language),
        outfile: `${ROOT}.build/assets/softset.words.${language}.js`,
      }),
      build({
        ...wordsBuild(language, "more"),
        outfile: `${ROOT}.build/assets/softset.words.more.${language}.js`,
      }),
    ]),
  ]);
  copyAssets();
  linkCommand();
}

const SOURCES = ["core", "data", "service", "widget", "package-lock.json"];

/** Build unless what is built is newer than every source. */
export async function buildIfStale() {
  const built = `${ROOT}.build/softset.js`;
  const builtAt = existsSync(built) ? statSync(built).mtimeMs : -Infinity;
  if (SOURCES.every((source) => newest(`${ROOT}${source}`) <= builtAt)) return;
  console.log("Building ...");
  await buildAll();
}

function newest(path) {
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.mtimeMs;
  return Math.max(0, ...readdirSync(path).map((name) => newest(`${path}/${name}`)));
}

/** One sheet a page, fonts first: a browser waits for every sheet before it shows anything. */
const SHEETS = {
  "shop.css": ["service/pages/fonts.css", "service/pages/shop.css"],
  "reference.css": ["service/pages/fonts.css", "service/pages/reference.css"],
  "receipt.css": ["service/pages/fonts.css", "service/pages/receipt.css"],
  "print.css": ["service/pages/fonts.css", "service/documents/print.css"],
  "labels.css": ["service/pages/fonts.css", "service/documents/labels.css"],
  "bench.css": ["service/pages/fonts.css", ...filesOf("service/pages/bench", ".css")],
};
const FONT = "node_modules/@fontsource";
const FONT_FILES = {
  "ibm-plex-sans/files/ibm-plex-sans-latin-400-normal.woff2": "plex-400.woff2",
  "ibm-plex-sans/files/ibm-plex-sans-latin-600-normal.woff2": "plex-600.woff2",
  "fraunces/files/fraunces-latin-600-normal.woff2": "fraunces-600.woff2",
};
/** What a PDF carries along. */
const PDF_FONTS = {
  "ibm-plex-sans/files/ibm-plex-sans-latin-400-normal.woff": "plex-400.ttf",
  "ibm-plex-sans/files/ibm-plex-sans-latin-600-normal.woff": "plex-600.ttf",
};

function copyAssets() {
  mkdirSync(`${ROOT}.build/assets`, { recursive: true });
  cpSync(`${ROOT}service/pages/icon.svg`, `${ROOT}.build/assets/icon.svg`);
  for (const [name, files] of Object.entries(SHEETS)) {
    const texts = files.map((file) => readFileSync(`${ROOT}${file}`, "utf8"));
    const { code } = transformSync(texts.join(""), { loader: "css", minify: true });
    writeFileSync(`${ROOT}.build/assets/${name}`, code);
  }
  for (const [from, to] of Object.entries(FONT_FILES)) {
    cpSync(`${ROOT}${FONT}/${from}`, `${ROOT}.build/assets/${to}`);
  }
  for (const [from, to] of Object.entries(PDF_FONTS)) {
    const woff = readFileSync(`${ROOT}${FONT}/${from}`);
    writeFileSync(`${ROOT}.build/assets/${to}`, unwrapFont(woff));
  }
}

/** Files of a folder in the order of their names; style sheets build on the first. */
function filesOf(folder, ending) {
  if (!existsSync(`${ROOT}${folder}`)) return [];
  const names = readdirSync(`${ROOT}${folder}`).filter((name) => name.endsWith(ending));
  return names.sort().map((name) => `${folder}/${name}`);
}

/** npm links the commands of dependencies but not a package's own, so `npx softset` here needs this link. */
function linkCommand() {
  chmodSync(`${ROOT}.build/softset.js`, 0o755);
  const link = `${ROOT}node_modules/.bin/softset`;
  if (process.platform === "win32" || !existsSync(`${ROOT}node_modules/.bin`)) return;
  rmSync(link, { force: true });
  symlinkSync("../../.build/softset.js", link);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await buildAll();

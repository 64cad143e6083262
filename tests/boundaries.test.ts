/** The house rules over every file, and planted samples that prove that each check bites. */
import { existsSync, readFileSync, readdirSync } from "node:fs";
import { describe, expect, it } from "vitest";
import {
  type SourceFile,
  arrowComplaints,
  callsFetch,
  defaultExportComplaints,
  lengthComplaints,
  purityComplaints,
  traceComplaints,
  widthComplaints,
} from "./helpers/house-rules.ts";

const TOP = new URL("../", import.meta.url);
const FOLDERS = ["core", "data", "service", "widget"];
const CODE = /\.(ts|mts|mjs|js)$/;
const TEXT = /\.(ts|mts|mjs|js|json|md|hbs|css|sql|toml|html|svg)$/;

/** Tables of figures may be long: their length is their worth. */
const LONG_TABLES = [/^data\/library\//, /^data\/sources\.ts$/, /^data\/migrations\//];

/** Where a tool or a platform asks for a default export. */
const DEFAULT_EXPORTS = [/\.config\.(ts|js|mjs)$/, /^service\/edge\.ts$/];

const TOP_FILES = [
  ...["package.json", "package-lock.json", "tsconfig.json", "wrangler.toml", "README.md"],
  ...["DEVELOPERS.md", ".eslint.config.js", ".prettierrc.json", ".ci/run"],
];

function filesUnder(folder: string): string[] {
  return readdirSync(new URL(`${folder}/`, TOP), { withFileTypes: true }).flatMap((entry) => {
    const path = `${folder}/${entry.name}`;
    return entry.isDirectory() ? filesUnder(path) : [path];
  });
}

function read(path: string): SourceFile {
  return { path, text: readFileSync(new URL(path, TOP), "utf8") };
}

const ours = FOLDERS.flatMap(filesUnder)
  .filter((path) => CODE.test(path))
  .map(read);
const tests = filesUnder("tests")
  .filter((path) => CODE.test(path))
  .map(read);
const core = ours.filter(({ path }) => path.startsWith("core/"));
const widget = ours.filter(({ path }) => path.startsWith("widget/"));

describe("the tree", () => {
  it("has files to look at in every folder", () => {
    for (const folder of FOLDERS) {
      expect(ours.filter(({ path }) => path.startsWith(`${folder}/`)).length).toBeGreaterThan(5);
    }
  });

  it("points one way: core <- data <- service, core <- widget, and no chapter forwards", () => {
    // Build scripts (.mjs) put the parts together, so they may reach into each.
    const shipped = ours.filter(({ path }) => path.endsWith(".ts") || path.startsWith("core/"));
    expect(shipped.flatMap(arrowComplaints)).toEqual([]);
  });

  it("keeps clock, chance, network, page and process out of the core", () => {
    expect(core.flatMap(purityComplaints)).toEqual([]);
  });

  it("lets one file of the widget call fetch", () => {
    expect(widget.filter(callsFetch).map(({ path }) => path)).toEqual(["widget/exchange.ts"]);
  });

  it("has no file over 300 lines, tables of figures apart", () => {
    const files = ours.filter(({ path }) => !LONG_TABLES.some((table) => table.test(path)));
    expect(files.flatMap(lengthComplaints)).toEqual([]);
  });

  it("has no line over 120 columns that the formatter could break", () => {
    expect([...ours, ...tests].flatMap(widthComplaints)).toEqual([]);
  });

  it("exports by name, save where a tool asks otherwise", () => {
    const files = [...ours, ...tests].filter(
      ({ path }) => !DEFAULT_EXPORTS.some((allowed) => allowed.test(path)),
    );
    expect(files.flatMap(defaultExportComplaints)).toEqual([]);
  });

  it("carries no path of a machine and no host that packages came from", () => {
    const paths = [
      ...[...FOLDERS, "tests"].flatMap(filesUnder).filter((path) => TEXT.test(path)),
      ...TOP_FILES.filter((path) => existsSync(new URL(path, TOP))),
    ];
    expect(paths.map(read).flatMap(traceComplaints)).toEqual([]);
  });
});

describe("the arrows, on planted samples", () => {
  it.each([
    ["core/blend.ts", 'import { db } from "#data/schema.ts";', "core may not import data"],
    ["core/blend.ts", 'import { z } from "zod";', "core may not use this package"],
    ["core/blend.ts", 'import { readFileSync } from "node:fs";', "may not use this package"],
    ["core/price/price.ts", 'import { steps } from "../make/steps.ts";', "price comes before make"],
    ["core/judge/melt.ts", 'import "../order/states.ts";', "judge comes before order"],
    ["core/judge/melt.ts", 'export * from "../price/money.ts";', "judge comes before price"],
    ["core/judge/melt.ts", 'const x = await import("../price/money.ts");', "judge comes before"],
    ["core/blend.ts", 'import { meltOf } from "./judge/melt.ts";', "types of a chapter only"],
    ["core/judge/melt.ts", 'import type { Blend } from "../blend";', "with the ending"],
    ["core/judge/melt.ts", 'import { x } from "../../widget/dom.ts";', "write #widget/"],
    ["data/library.ts", 'import { app } from "#service/app.ts";', "data may not import service"],
    ["data/library.ts", 'import { Hono } from "hono";', "data may not use this package"],
    ["data/seeds/demo.ts", 'import type { X } from "#widget/state.ts";', "data may not import"],
    [
      "service/app.ts",
      'import { scene } from "#widget/scene.ts";',
      "service may not import widget",
    ],
    ["service/app.ts", 'import { WHOLE } from "../core/blend.ts";', "across folders write #core/"],
    [
      "widget/state.ts",
      'import { seed } from "#data/seeds/demo.ts";',
      "widget may not import data",
    ],
    ["widget/state.ts", 'import { app } from "#service/app.ts";', "widget may not import service"],
    ["widget/state.ts", 'import Stripe from "stripe";', "widget may not use this package"],
  ])("%s: %s", (path, text, complaint) => {
    const complaints = arrowComplaints({ path, text });
    expect(complaints).toHaveLength(1);
    expect(complaints[0]).toContain(complaint);
  });

  it.each([
    ["core/compose/product.ts", 'import type { Rules } from "../judge/verdict.ts";'],
    ["core/make/steps.ts", 'import { meltOf } from "../judge/melt.ts";'],
    ["core/price/price.ts", 'import { WHOLE } from "../blend.ts";'],
    ["core/wire.ts", 'import type { Tariff } from "./price/tariff.ts";'],
    ["data/schema.ts", 'import { sql } from "drizzle-orm";'],
    ["data/schema.ts", 'import { integer } from "drizzle-orm/sqlite-core";'],
    ["service/app.ts", 'import { Hono } from "hono"; import { WHOLE } from "#core/blend.ts";'],
    ["core/blend.ts", '// import { z } from "zod";\nconst s = "import x from \'zod\'";'],
  ])("lets %s: %s", (path, text) => {
    expect(arrowComplaints({ path, text })).toEqual([]);
  });
});

describe("the other checks, on planted samples", () => {
  it.each([
    "const now = Date.now();",
    "const now = new Date();",
    "const now = new Date;",
    "const now = Date();",
    "const dice = Math.random();",
    "const id = crypto.randomUUID();",
    'const page = await fetch("x");',
    "document.title;",
    "process.env.HOME;",
    "globalThis.fetch;",
  ])("find the world in the core: %s", (text) => {
    expect(purityComplaints({ path: "core/blend.ts", text }).length).toBeGreaterThan(0);
  });

  it("leave words, keys and other mathematics alone", () => {
    const text =
      "/** The process at fetch time, new Date(). */ const a = { document: Math.max(1, 2) }; new Date(iso);";
    expect(purityComplaints({ path: "core/blend.ts", text })).toEqual([]);
  });

  it("find a call of fetch, and no method of that name", () => {
    const calls = (text: string) => callsFetch({ path: "widget/x.ts", text });
    expect(calls("await fetch(url)")).toBe(true);
    expect(calls("await window.fetch(url)")).toBe(true);
    expect(calls("await app.fetch(request)")).toBe(false);
    expect(calls("// fetch(url)")).toBe(false);
  });

  it("find a file of 301 lines and pass one of 300", () => {
    const lines = (count: number) => ({ path: "core/x.ts", text: "1;\n".repeat(count) });
    expect(lengthComplaints(lines(301))).toHaveLength(1);
    expect(lengthComplaints(lines(300))).toEqual([]);
  });

  it("find a line of 121 columns, and excuse one that is long for its string", () => {
    const text = (width: number) => `// ${"x".repeat(width - 3)}\n`;
    expect(widthComplaints({ path: "core/x.ts", text: text(121) })).toHaveLength(1);
    expect(widthComplaints({ path: "core/x.ts", text: text(120) })).toEqual([]);
    expect(widthComplaints({ path: "core/x.ts", text: `f("${"x".repeat(130)}");` })).toEqual([]);
    const short = `f("x"); ${text(130)}`;
    expect(widthComplaints({ path: "core/x.ts", text: short })).toHaveLength(1);
  });

  it.each([
    "export default 1;",
    "export default class {}",
    "export { a as default } from './a.ts';",
  ])("find a default export: %s", (text) => {
    expect(defaultExportComplaints({ path: "core/x.ts", text })).toHaveLength(1);
  });

  it("find no default export in a string", () => {
    const text = 'export const a = "export default 1;";';
    expect(defaultExportComplaints({ path: "core/x.ts", text })).toEqual([]);
  });

  it("find a path of this machine and a package host, and pass a route", () => {
    const traces = (text: string) => traceComplaints({ path: "core/x.ts", text });
    expect(traces(['"', "work", "main"].join("/").replace('"/', '"/'))).toHaveLength(1);
    expect(traces(`https://${["registry", "example", "org"].join(".")}/x`)).toHaveLength(1);
    expect(traces(`app.get("/bench/${"wo" + "rk"}/:id")`)).toEqual([]);
  });
});

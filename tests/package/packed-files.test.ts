/**
 * What `npm pack` takes along: all that an installed shop opens, and nothing of the workshop.
 */
import { execFileSync } from "node:child_process";
import { readFileSync, readdirSync } from "node:fs";
import { builtinModules } from "node:module";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import journal from "#data/migrations/meta/_journal.json" with { type: "json" };
import manifest from "../../package.json" with { type: "json" };

const ROOT = join(import.meta.dirname, "../..");
/** The machine code of the driver is compiled where it is installed, so this is text, styles and fonts [bytes] */
const PACKED_MOST = 2_000_000;

interface Packed {
  readonly size: number;
  readonly files: readonly { readonly path: string }[];
}

const said = execFileSync("npm", ["pack", "--dry-run", "--json", "--ignore-scripts"], {
  cwd: ROOT,
  encoding: "utf8",
  stdio: ["ignore", "pipe", "ignore"],
});
const [packed] = JSON.parse(said) as [Packed];
const paths = new Set(packed.files.map(({ path }) => path));

describe("the package", () => {
  it("holds the command, the service, the client, every file it hands out and every migration", () => {
    const needed = [
      ...["LICENSE", "README.md", "package.json", ".build/service.js", manifest.bin.softset],
      // Its types are written when the package is prepared, which is not done here.
      manifest.exports["./client"].default.replace("./", ""),
      ...readdirSync(join(ROOT, ".build/assets")).map((name) => `.build/assets/${name}`),
      ...journal.entries.map(({ tag }) => `data/migrations/${tag}.sql`),
      "data/migrations/meta/_journal.json",
    ];
    expect(needed.filter((path) => !paths.has(path))).toEqual([]);
  });

  it("holds nothing else: no source, no test, no data of a shop, no key", () => {
    const others = [...paths].filter(
      (path) =>
        !/^\.build\/(assets\/[\w.-]+|types\/.+\.d\.ts|(client|service|softset)\.js)$/.test(path) &&
        !/^data\/migrations\/(\d{4}_\w+\.sql|meta\/_journal\.json)$/.test(path) &&
        !["LICENSE", "README.md", "package.json"].includes(path),
    );
    expect(others).toEqual([]);
    expect(packed.size).toBeLessThan(PACKED_MOST);
  });

  it("asks for every package that its files import", () => {
    const known = new Set([...Object.keys(manifest.dependencies), ...builtinModules]);
    const imported = [manifest.bin.softset, ".build/service.js"].flatMap((path) => {
      const text = readFileSync(join(ROOT, path), "utf8");
      const found = text.matchAll(/^(?:import|export)\s[^"']*?from\s*"([^".][^"]*)"/gm);
      return [...found].map(
        ([, name = ""]) => /^(@[^/]+\/)?[^/]+/.exec(name.replace("node:", ""))![0],
      );
    });
    expect(imported.length).toBeGreaterThan(30);
    // What comes with @messageformat/core, at the version that core itself pins.
    expect([...new Set(imported)].filter((name) => !known.has(name))).toEqual([
      "@messageformat/runtime",
    ]);
  });
});

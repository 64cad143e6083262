/**
 * `npm run load`: the real server under 70 % of what it can do, while everything around it fails in turn; 30 minutes,
 * or as many as are said: `npm run load -- 5`. A second number is the seed. The report goes to `.build/load/report`.
 */
import { build } from "esbuild";
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { installIfNeeded } from "../../service/install.mjs";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const PART = 0.7;

const [minutes = 30, seed = 1] = process.argv.slice(2).map(Number);
if (!(minutes > 0) || !Number.isInteger(seed)) {
  console.error(
    "Say how many minutes and, after it, a whole number as the seed: npm run load -- 30 1",
  );
  process.exit(2);
}
if (!existsSync("/proc/self/status")) {
  console.error("The load is measured by /proc, which only Linux has: run it there.");
  process.exit(2);
}
installIfNeeded();
const { buildAll } = await import("../../service/build.mjs");
await buildAll();
await build({
  entryPoints: ["held", "outside", "visitors"].map((name) => `${ROOT}tests/load/${name}.ts`),
  outdir: `${ROOT}.build/load`,
  outExtension: { ".js": ".mjs" },
  ...{ bundle: true, platform: "node", format: "esm", target: "node20", packages: "external" },
});
const { holdLoad } = await import("../../.build/load/held.mjs");
const folder = `${ROOT}.build/load/report`;
const promises = await holdLoad({ root: ROOT, folder, minutes, seed, part: PART });
for (const { what, measured, promised, good } of promises) {
  const mark = good === false ? "! " : "  ";
  console.log(`${mark}${what.padEnd(60)}${measured.padStart(18)}   ${promised}`);
}
console.log(`report.json, times.svg, memory.svg and flow.svg are in ${folder}`);
process.exit(promises.some(({ good }) => good === false) ? 1 : 0);

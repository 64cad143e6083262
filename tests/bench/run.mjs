/**
 * `npm run bench`: the speeds and sizes the project promises, measured on this machine beside what limits them. A whole
 * run takes about ten minutes and leaves its results in `tests/bench/results` and in the README; `-- --quick` shows in
 * a minute that all of it works, `-- --only=orders,move` runs some of its chapters. Not a test: figures depend on the
 * machine, and a busy one says nothing.
 */
import { fileURLToPath } from "node:url";
import { installIfNeeded } from "../../service/install.mjs";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));

installIfNeeded();
// They need what was just installed.
const { buildAll } = await import("../../service/build.mjs");
const { build } = await import("esbuild");
await buildAll();
await build({
  entryPoints: ["whole", "growth-process"].map((name) => `${ROOT}tests/bench/${name}.ts`),
  outdir: `${ROOT}.build/bench`,
  outExtension: { ".js": ".mjs" },
  ...{ bundle: true, splitting: true, platform: "node", format: "esm", packages: "external" },
  // The widget's build finds its files beside itself, so it is not moved into the bundle.
  external: ["#widget/bundle.mjs"],
  logLevel: "warning",
});
const { runBench } = await import(`${ROOT}.build/bench/whole.mjs`);
try {
  await runBench(process.argv.slice(2));
} catch (error) {
  console.error(error);
  process.exit(1);
}
process.exit(0);

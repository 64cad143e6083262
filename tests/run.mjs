/**
 * `npm test`: installs what is needed, builds, checks format, lint and types, and runs every test. The last line counts
 * them. Where no browser can be had, the browser tests are skipped and counted as such.
 *
 * What can wait for itself does so beside the rest: the browser comes while the packages do, and the checks, which take
 * one core, run beside the tests.
 */
import { execFile, spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync, mkdirSync, readFileSync, rmSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { installIfNeeded } from "../service/install.mjs";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const REPORT = `${ROOT}node_modules/.cache/softset-tests.json`;

const browser = findChromium() ?? installChromium();
installIfNeeded();
const { buildAll } = await import("../service/build.mjs");
await buildAll();
const chromium = await browser;

const checking = Promise.all(["format", "lint", "types"].map((name) => checked(name)));
mkdirSync(`${ROOT}node_modules/.cache`, { recursive: true });
rmSync(REPORT, { force: true });
const vitest = [
  "vitest",
  "run",
  "--config=tests/vitest.config.ts",
  "--root=.",
  "--reporter=default",
  "--reporter=json",
  `--outputFile=${REPORT}`,
];
await run("npx", ...vitest, ...process.argv.slice(2));
const checks = (await checking).filter(({ output }) => output !== undefined);

if (!existsSync(REPORT)) {
  console.error("The tests did not finish.");
  process.exit(1);
}
const report = JSON.parse(readFileSync(REPORT, "utf8"));
const passed = report.numPassedTests;
const skipped = report.numPendingTests + report.numTodoTests;
// A suite that breaks before its first test counts as a failure too, as does a failed check.
const broken = report.testResults.filter(
  ({ status, assertionResults }) => status === "failed" && assertionResults.length === 0,
).length;
const failed = report.numFailedTests + broken + checks.length;
for (const { name, output } of checks) console.error(`This check failed: ${name}\n${output}`);
if (!chromium) {
  console.error(
    "No Chromium was found, so the browser tests were skipped. Install it (Debian: apt-get install " +
      "chromium-headless-shell) or set SOFTSET_CHROMIUM to its path.",
  );
}
console.log(`${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ""}`);
process.exit(failed > 0 || passed === 0 ? 1 : 0);

async function run(command, ...args) {
  const env = { ...process.env, ...(chromium ? { SOFTSET_CHROMIUM: chromium } : {}) };
  await once(spawn(command, args, { cwd: ROOT, stdio: "inherit", env }), "close");
}

/** One of the project's own checks; its output only when it finds something. */
function checked(name) {
  return new Promise((resolve) => {
    execFile(
      "npm",
      ["run", "--silent", name],
      { cwd: ROOT, maxBuffer: 2 ** 26 },
      (error, out, err) => resolve(error ? { name, output: `${out}${err}` } : { name }),
    );
  });
}

function findChromium() {
  const places = [
    process.env.SOFTSET_CHROMIUM,
    // Chromium without its windows: the same engine in half the time.
    "/usr/bin/chromium-headless-shell",
    "/usr/bin/chromium",
    "/usr/bin/chromium-browser",
    "/usr/bin/google-chrome",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  ];
  return places.find((place) => place && existsSync(place));
}

/** As root on Debian the system's own package is installed; elsewhere that is for a person to decide. */
async function installChromium() {
  if (process.getuid?.() !== 0 || !existsSync("/usr/bin/apt-get")) return undefined;
  console.log("Installing Chromium for the browser tests ...");
  const get = "apt-get install -y -qq --no-install-recommends";
  // One shell for all of it: the packages are installed meanwhile, and nothing else is looked at until they are.
  const all = `apt-get update -qq; ${get} chromium-headless-shell || ${get} chromium`;
  const env = { ...process.env, DEBIAN_FRONTEND: "noninteractive" };
  await once(spawn("sh", ["-c", all], { stdio: "ignore", env }), "close");
  return findChromium();
}

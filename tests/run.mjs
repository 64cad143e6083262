/**
 * `npm test`: installs what is needed, builds, checks format, lint and types, and runs every test. The last line counts
 * them. Where no browser can be had, the browser tests are skipped and counted as such.
 */
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, rmSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { installIfNeeded } from "../service/install.mjs";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const REPORT = `${ROOT}node_modules/.cache/softset-tests.json`;

installIfNeeded();
const { buildAll } = await import("../service/build.mjs");
await buildAll();
const chromium = findChromium() ?? installChromium();

const checks = ["format", "lint", "types"].filter((name) => !run("npm", "run", "--silent", name));
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
run("npx", ...vitest, ...process.argv.slice(2));

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
if (checks.length > 0) console.error(`These checks failed: ${checks.join(", ")}`);
if (!chromium) {
  console.error(
    "No Chromium was found, so the browser tests were skipped. Install it (Debian: apt-get install " +
      "chromium-headless-shell) or set SOFTSET_CHROMIUM to its path.",
  );
}
console.log(`${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ""}`);
process.exit(failed > 0 || passed === 0 ? 1 : 0);

function run(command, ...args) {
  const env = { ...process.env, ...(chromium ? { SOFTSET_CHROMIUM: chromium } : {}) };
  return spawnSync(command, args, { cwd: ROOT, stdio: "inherit", env }).status === 0;
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
function installChromium() {
  if (process.getuid?.() !== 0 || !existsSync("/usr/bin/apt-get")) return undefined;
  console.log("Installing Chromium for the browser tests ...");
  const quiet = { stdio: "ignore", env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" } };
  spawnSync("apt-get", ["update", "-qq"], quiet);
  for (const name of ["chromium-headless-shell", "chromium"]) {
    spawnSync("apt-get", ["install", "-y", "-qq", "--no-install-recommends", name], quiet);
    const found = findChromium();
    if (found) return found;
  }
  return undefined;
}

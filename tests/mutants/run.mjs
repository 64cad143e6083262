/**
 * `npm run mutants`: changes the code one place at a time and looks whether a test notices; money first, or the parts
 * that are named (`npm run mutants -- price tills`). Takes from minutes to hours a part. What nobody notices is
 * listed in `.build/mutants`, the known ones in survivors.md. Its tools are installed apart, as `npm test` needs none
 * of them.
 */
import { execFileSync, spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { cpSync, existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { installIfNeeded } from "../../service/install.mjs";
import { PARTS } from "./parts.mjs";
import { scoresOf, survivorsOf } from "./score.mjs";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const HERE = fileURLToPath(new URL(".", import.meta.url));
const FOLDER = `${ROOT}.build/mutants`;
const MONEY = ["price", "charges", "tills", "settling"];
/** Share of the mutants that tests must meet [%] */
const SCORE_LEAST = 80;

const asked = process.argv.slice(2);
const strange = asked.filter((name) => !(name in PARTS));
if (strange.length > 0) {
  console.error(
    `There is no part ${strange.join(", ")}. Name some of: ${Object.keys(PARTS).join(", ")}`,
  );
  process.exit(2);
}
installIfNeeded();
const { buildAll } = await import("../../service/build.mjs");
await buildAll();
installTools();

let isGood = true;
for (const name of asked.length > 0 ? asked : MONEY) {
  const stryker = `${FOLDER}/node_modules/@stryker-mutator/core/bin/stryker.js`;
  const { status } = spawnSync(
    process.execPath,
    [stryker, "run", "tests/mutants/stryker.config.mjs"],
    { cwd: ROOT, stdio: "inherit", env: { ...process.env, SOFTSET_MUTANTS: name } },
  );
  if (status !== 0) process.exit(1);
  const report = JSON.parse(readFileSync(`${FOLDER}/${name}.json`, "utf8"));
  for (const { folder, met, all, score } of scoresOf(report)) {
    const mark = score < SCORE_LEAST ? "! " : "  ";
    console.log(`${mark}${folder.padEnd(28)}${met} of ${all} met, ${score.toFixed(1)} %`);
    isGood &&= score >= SCORE_LEAST;
  }
  writeFileSync(`${FOLDER}/${name}.txt`, `${survivorsOf(report).join("\n")}\n`);
  console.log(`  the others: .build/mutants/${name}.txt`);
}
process.exit(isGood ? 0 : 1);

/** What the lock file of this folder asks for, beside the build and not beside the code. */
function installTools() {
  mkdirSync(FOLDER, { recursive: true });
  const lock = readFileSync(`${HERE}package-lock.json`);
  const wanted = createHash("sha256").update(lock).update(process.version).digest("hex");
  const stamp = `${FOLDER}/installed`;
  if (existsSync(stamp) && readFileSync(stamp, "utf8") === wanted) return;
  for (const file of ["package.json", "package-lock.json"])
    cpSync(`${HERE}${file}`, `${FOLDER}/${file}`);
  // Vitest is the project's own: a second one beside the runner would run other tests than `npm test` does.
  const quiet = [
    "--ignore-scripts",
    "--legacy-peer-deps",
    "--no-audit",
    "--no-fund",
    "--loglevel=error",
  ];
  execFileSync("npm", ["ci", ...quiet], { cwd: FOLDER, stdio: "inherit" });
  writeFileSync(stamp, wanted);
}

/**
 * `npm run bench`: the speeds and sizes the project promises, measured on this machine and printed beside the promise.
 * Not a test: figures depend on the machine, and a busy one says nothing.
 */
import autocannon from "autocannon";
import { build } from "esbuild";
import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { installIfNeeded } from "../../service/install.mjs";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const SECONDS = 8;
const CHROMIUM = process.env.SOFTSET_CHROMIUM ?? "/usr/bin/chromium";

installIfNeeded();
const { buildAll } = await import("../../service/build.mjs");
await buildAll();

const rows = [];
const report = (what, measured, promised, good) => rows.push({ what, measured, promised, good });

await benchJudgement();
await benchRoom();
await benchOutbox();
await benchMakerPages();
await benchService();
await benchSlider();
await benchAnswers();
const script = gzipSync(readScript(), { level: 9 }).length;
report(
  "storefront script with core, gzip",
  `${kib(script)} KiB`,
  "at most 30 KiB",
  script <= 30_720,
);
for (const { what, measured, promised, good } of rows) {
  console.log(`${good ? "  " : "! "}${what.padEnd(58)}${measured.padStart(16)}   ${promised}`);
}
process.exit(0);

/** A bench written in TypeScript, ready to run in this process. */
async function load(name) {
  const outfile = `${ROOT}.build/bench/${name}.mjs`;
  const entryPoints = [`${ROOT}tests/bench/${name}.ts`];
  // The widget's build finds its files beside itself, so it is not moved into the bundle.
  const external = ["better-sqlite3", "esbuild", "playwright-core", "#widget/bundle.mjs"];
  await build({ entryPoints, outfile, bundle: true, platform: "node", format: "esm", external });
  return import(outfile);
}

/** The core alone, in this process. */
async function benchJudgement() {
  const { medianMicroseconds } = await load("judge-speed");
  for (const { what, us } of medianMicroseconds()) {
    report(what, `${us.toFixed(0)} µs`, "median under 100 µs", us < 100);
  }
}

/** Orders with what is to be told of them, on the disk, beside the bare driver. */
async function benchOutbox() {
  const { outboxSpeeds } = await load("outbox-speed");
  const { ours, bare } = await outboxSpeeds(`${ROOT}data/migrations`);
  const beside = `bare driver, one commit each: ${bare.toFixed(0)} a second`;
  const promise = `at least 1500 (${beside})`;
  report("orders stored with their messages, a second", ours.toFixed(0), promise, ours >= 1500);
}

/** The orderable room of a wide product, in this process. */
async function benchRoom() {
  const { closedRoomSpeed, roomSpeed } = await load("room-speed");
  const { seconds, perSecond, judged, p99Ms } = roomSpeed();
  const what = `room of 3 bases x 4 places x 6 oils, ${judged} blends`;
  report(what, `${seconds.toFixed(2)} s`, "under 2 s", seconds < 2);
  report(
    "blends judged for it",
    `${perSecond.toFixed(0)}/s`,
    "at least 10000/s",
    perSecond >= 10_000,
  );
  report("a slice of it, p99", `${p99Ms.toFixed(0)} ms`, "under 50 ms", p99Ms < 50);
  const closed = closedRoomSpeed();
  report(
    `the same with nothing orderable, ${closed.judged} blends`,
    `${closed.seconds.toFixed(2)} s`,
    "under 2 s",
    closed.seconds < 2,
  );
}

/** Every page of the maker's side in a shop after many years, in this process; takes some minutes. */
async function benchMakerPages() {
  const { makerPageSpeeds } = await load("maker-pages");
  const pages = await makerPageSpeeds();
  const ms = (value) => value.toFixed(0);
  for (const { path, wallP50, wallP99, cpuP50, cpuP99 } of pages) {
    const measured = `${ms(wallP50)}, p99 ${ms(wallP99)} ms`;
    const cpu = `p99 under 100 ms; of the processor ${ms(cpuP50)}, p99 ${ms(cpuP99)} ms`;
    report(path.slice(0, 57), measured, cpu, wallP99 < 100);
  }
}

/** The storefront page in a Chromium, where there is one. */
async function benchSlider() {
  if (!existsSync(CHROMIUM)) return console.log(`no Chromium at ${CHROMIUM}: page not measured`);
  const { sliderSpeed } = await load("slider-speed");
  const { moves, medianMs, p95Ms, threadMs } = await sliderSpeed(CHROMIUM, readScript());
  report(
    `slider move to painted verdict, CPU a quarter, ${moves} moves`,
    `${medianMs.toFixed(0)} ms, p95 ${p95Ms.toFixed(0)}`,
    `p95 under 16 ms; the page's thread ${(4 * threadMs).toFixed(0)} ms a move`,
    p95Ms < 16,
  );
}

/** The demo shop's page in a Chromium, where there is one: how soon it stands, and how soon it answers. */
async function benchAnswers() {
  if (!existsSync(CHROMIUM)) return;
  const { answerSpeed } = await load("answer-speed");
  const { child, url } = await startService();
  try {
    const speed = await answerSpeed(CHROMIUM, `${url}/shop/everyday`);
    const { largestPaintMs: paints, moves, answerP98Ms, worstMs, slowest } = speed;
    const worst = paints.at(-1);
    report(
      `largest contentful paint, CPU a quarter, worst of ${paints.length}`,
      `${worst.toFixed(0)} ms`,
      "under 1200 ms",
      worst < 1200,
    );
    report(
      `interaction to next paint, CPU a quarter, ${moves} moves`,
      `p98 ${answerP98Ms} ms`,
      `p98 under 100 ms; worst ${worstMs}: ${slowest.slice(0, 3).join(", ")}`,
      answerP98Ms < 100,
    );
  } finally {
    child.kill();
  }
}

/** The service on a file of its own, asked over loopback from this process. */
async function benchService() {
  const { child, url } = await startService();
  try {
    await new Promise((resolve) => setTimeout(resolve, 1500));
    const resting = memoryMb(child.pid);
    report("server memory at rest", `${resting.toFixed(0)} MB`, "under 120 MB", resting < 120);
    const choice = JSON.parse(readFileSync(`${ROOT}tests/bench/choice.json`, "utf8"));
    const verdicts = await ask(`${url}/v1/verdicts`, { product: "everyday", choice });
    report("POST /v1/verdicts", perSecond(verdicts), "at least 5000/s", verdicts.rate >= 5000);
    const body = { product: "everyday", choice, jar: "jar-120", quantity: 1 };
    const quotes = await ask(`${url}/v1/quotes`, body);
    report(
      "POST /v1/quotes, every one stored",
      perSecond(quotes),
      "at least 1500/s",
      quotes.rate >= 1500,
    );
  } finally {
    child.kill();
  }
}

function startService() {
  const database = join(mkdtempSync(join(tmpdir(), "softset-")), "shop.db");
  const child = spawn(process.execPath, [`${ROOT}.build/service.js`], {
    env: { ...process.env, PORT: "0", SOFTSET_DATABASE: database },
    stdio: ["ignore", "pipe", "inherit"],
  });
  return new Promise((resolve) => {
    child.stdout.on("data", (chunk) => {
      const url = /Shop +(http:\S+?)\/\s/.exec(String(chunk))?.[1];
      if (url) resolve({ child, url });
    });
  });
}

async function ask(url, body) {
  const result = await autocannon({
    url,
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
    connections: 32,
    duration: SECONDS,
  });
  if (result.non2xx > 0 || result.errors > 0) throw new Error(`${url}: not every answer was good`);
  return { rate: result.requests.average, p99: result.latency.p99 };
}

function perSecond({ rate, p99 }) {
  return `${rate.toFixed(0)}/s, p99 ${p99} ms`;
}

function memoryMb(pid) {
  const status = readFileSync(`/proc/${pid}/status`, "utf8");
  return Number(/VmRSS:\s+(\d+)/.exec(status)[1]) / 1024;
}

function readScript() {
  return readFileSync(`${ROOT}.build/assets/softset.js`, "utf8");
}

function kib(bytes) {
  return (bytes / 1024).toFixed(1);
}

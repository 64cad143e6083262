/**
 * `node tests/package/try-install.mjs`: packs Softset, installs it into an empty folder and opens the shop there with
 * the two lines that the README gives. Takes a minute or two, because the database driver is compiled.
 */
import { execFileSync, spawn } from "node:child_process";
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const folder = mkdtempSync(join(tmpdir(), "softset-installed-"));
const run = (command, ...args) =>
  execFileSync(command, args, {
    cwd: folder,
    encoding: "utf8",
    stdio: ["ignore", "pipe", "inherit"],
  });

try {
  execFileSync("npm", ["pack", "--pack-destination", folder], {
    cwd: ROOT,
    stdio: ["ignore", "ignore", "inherit"],
  });
  run("npm", "install", "--no-audit", "--no-fund", "--loglevel=error", "./softset-0.1.0.tgz");
  console.log(run("npx", "softset", "help").split("\n")[0]);
  await openShop();
} finally {
  rmSync(folder, { recursive: true, force: true });
}

async function openShop() {
  const shop = spawn("npx", ["softset", "start"], {
    cwd: folder,
    env: { ...process.env, PORT: "0" },
    stdio: ["ignore", "pipe", "inherit"],
    detached: true,
  });
  let printed = "";
  await new Promise((resolve, reject) => {
    shop.stdout.on("data", (chunk) => {
      printed += chunk;
      if (printed.includes("Press Ctrl+C")) resolve();
    });
    shop.once("exit", () => reject(new Error(`the shop ended: ${printed}`)));
  });
  try {
    const [, url] = /Shop +(http:\S+?)\/\s/.exec(printed);
    for (const path of ["/", "/shop/everyday", "/assets/softset.js", "/v1/openapi.json"]) {
      const answer = await globalThis.fetch(`${url}${path}`);
      console.log(answer.status, path, (await answer.text()).length);
      if (answer.status !== 200) throw new Error(`${path} answered ${answer.status}`);
    }
    const signIn = /(http:\S+\/maker\/enter\/\S+)/.exec(printed)[1];
    console.log((await globalThis.fetch(signIn)).status, "sign-in link");
    console.log(
      existsSync(join(folder, ".data/shop.db")) ? "keeps its data in .data" : "keeps no data",
    );
  } finally {
    process.kill(-shop.pid, "SIGTERM");
  }
}

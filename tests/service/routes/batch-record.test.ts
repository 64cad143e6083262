/**
 * The record of a batch by its pages: told by what happens to the batch, added to by people, looked at link by link.
 */
import { eq, sql } from "drizzle-orm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { batchRecord, batches } from "#data/schema.ts";
import { verifyExport } from "#service/batches/record-export.ts";
import { readRecord } from "#service/batches/record.ts";
import { fieldsOn } from "../../helpers/form-fields.ts";
import { type Fields, benchHand, payOrder, sendForm } from "../../helpers/shop-acts.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

const SHOP = "quillfen";
let shop: TestShop;
let owner: string;
let hand: string;
beforeAll(async () => {
  shop = await openTestShop();
  owner = await shop.signIn();
  hand = await benchHand(shop);
});
afterAll(() => shop.close());

const send = (path: string, cookie: string, fields?: Fields) =>
  sendForm(shop, path, cookie, fields);

async function look(path: string, cookie = owner) {
  const answer = await shop.request(path, { headers: { cookie, accept: "text/html" } });
  return { status: answer.status, page: await answer.text() };
}

/** A batch on the bench with one paid order of two jars of 120 g. */
async function onBench(): Promise<string> {
  const { id } = await payOrder(shop);
  const issued = await send("/maker/batches", owner, [
    ["order", id],
    ["short", "go"],
  ]);
  return issued.headers.get("location")!.split("/").at(-1)!;
}

async function close(number: string): Promise<void> {
  const form = fieldsOn((await look(`/maker/batches/${number}/close`)).page);
  expect((await send(`/maker/batches/${number}/close`, hand, form)).status).toBe(303);
}

const rowOf = async (number: string) => (await shop.shop.batches.byNumber(SHOP, number))!;
const recordOf = async (number: string) => await readRecord(shop.shop, await rowOf(number));
const kindsOf = async (number: string) => (await recordOf(number)).entries.map(({ kind }) => kind);
const at = (number: string, what = "") => `/maker/batches/${number}/record${what}`;

describe("what happens to a batch", () => {
  it("is told in the same list, by whom, and the chain holds", async () => {
    const number = await onBench();
    await send(`/maker/batches/${number}/set-aside`, hand);
    await send(`/maker/batches/${number}/take-up`, owner);
    await close(number);
    await send(`/maker/batches/${number}/notes`, hand, [["words", "The tare was off"]]);
    const { entries, check } = await recordOf(number);
    expect(entries.map(({ kind, by }) => `${kind} ${by}`)).toEqual([
      "issued Owner",
      "set-aside Hand",
      "taken-up Owner",
      "closed Hand",
      "closing-amended Hand",
    ]);
    expect(check).toMatchObject({ entries: 5, faults: [] });
    const { page } = await look(at(number));
    for (const words of ["Unbroken, 5 entries", "TB-2207", "The tare was off", "Yield", number]) {
      expect(page).toContain(words);
    }
    expect(page).not.toContain("Wren");
    expect(page).not.toMatch(/[£$€]/);
  });

  it("is not told when it does not happen", async () => {
    const number = await onBench();
    await close(number);
    expect((await send(`/maker/batches/${number}/set-aside`, owner)).status).toBe(409);
    expect(await kindsOf(number)).toEqual(["issued", "closed"]);
  });
});

describe("a person", () => {
  let number = "";
  beforeAll(async () => {
    number = await onBench();
  });

  it("writes the start, a step, a deviation and a sample at the bench", async () => {
    const { page } = await look(at(number), hand);
    expect(page).toContain("Write down the start");
    const checks = [...page.matchAll(/name="check" value="([^"]+)"/g)].map(([, value]) => value!);
    expect(checks).toHaveLength(4);
    const step = /<option value="(0:[^"]+)"/.exec(page)![1]!;
    const written = [
      await send(
        at(number, "/started"),
        hand,
        checks.map((check) => ["check", check] as const),
      ),
      await send(at(number, "/step"), hand, [
        ["step", step],
        ["celsius", "78,5"],
      ]),
      await send(at(number, "/deviation"), hand, [
        ["words", "The pot boiled <dry>"],
        ["done", "Begun again"],
      ]),
      await send(at(number, "/retained-sample"), hand, [
        ["massG", "12.5"],
        ["place", "Cool box 2"],
        ["keepUntil", "2099-01-31"],
      ]),
    ];
    expect(written.map(({ status }) => status)).toEqual([303, 303, 303, 303]);
    const { page: after } = await look(at(number));
    for (const words of ["78.5", "boiled &lt;dry&gt;", "Cool box 2", "2099-01-31", "12.50"]) {
      expect(after).toContain(words);
    }
  });

  it.each([
    ["started", [["check", "made up"]], "Tick what was looked at"],
    ["started", [["words", "again"]], "written down already"],
    ["step", [["step", "0:No such step"]], "Choose a step"],
    ["step", [["celsius", "hot"]], "Write the temperature"],
    ["deviation", [["done", "cleaned"]], "otherwise than it should be"],
    [
      "retained-sample",
      [
        ["massG", "a lot"],
        ["place", "x"],
        ["keepUntil", "2099-01-31"],
      ],
      "Retained sample",
    ],
    [
      "retained-sample",
      [
        ["massG", "12"],
        ["place", "box"],
        ["keepUntil", "2001-01-31"],
      ],
      "from today on",
    ],
    [
      "retained-sample",
      [
        ["massG", "12"],
        ["place", "box"],
        ["keepUntil", "2099-02-31"],
      ],
      "from today on",
    ],
    ["note", [["words", "n".repeat(2001)]], "2000 characters"],
    [
      "correction",
      [
        ["of", "1"],
        ["words", "x"],
        ["because", "y"],
      ],
      "Choose the entry",
    ],
    [
      "correction",
      [
        ["of", "4"],
        ["words", "x"],
      ],
      "why it is corrected",
    ],
    [
      "release",
      [
        ["decision", "released"],
        ["because", "all well"],
      ],
      "first: what was not made",
    ],
  ] as const)(
    "cannot write %s of %j, and loses nothing that was typed",
    async (kind, fields, says) => {
      const before = (await recordOf(number)).check.entries;
      const answer = await send(at(number, `/${kind}`), owner, fields);
      expect(answer.status).toBe(422);
      const page = await answer.text();
      expect(page).toContain(says);
      expect((await recordOf(number)).check.entries).toBe(before);
      const [, typed] = fields.at(-1)!;
      if (kind !== "started" && kind !== "release" && !typed.startsWith("0:")) {
        expect(page).toContain(typed.slice(0, 40));
      }
    },
  );

  it("corrects an entry, which stays to be seen with the reason", async () => {
    const place = (await recordOf(number)).entries.find(
      ({ kind }) => kind === "deviation",
    )!.sequence;
    const fields = [
      ["of", String(place)],
      ["words", "The pot came to a boil"],
      ["because", "It never ran dry"],
    ] as const;
    expect((await send(at(number, "/correction"), hand, fields)).status).toBe(303);
    const { page } = await look(at(number));
    expect(page).toContain("<del>The pot boiled &lt;dry&gt;</del>");
    expect(page).toContain("because: It never ran dry");
    expect(page).toContain("The pot came to a boil");
  });

  it("who presses twice writes once, and writes the same again another day", async () => {
    const seen = String((await recordOf(number)).check.entries);
    const note = [
      ["words", "Rained all day"],
      ["seen", seen],
    ] as const;
    await send(at(number, "/note"), hand, note);
    await send(at(number, "/note"), hand, note);
    const after = (await recordOf(number)).check.entries;
    expect(after).toBe(Number(seen) + 1);
    await send(at(number, "/note"), hand, [
      ["words", "Rained all day"],
      ["seen", String(after)],
    ]);
    expect((await recordOf(number)).check.entries).toBe(after + 1);
  });

  it("decides only as an owner, once it is closed, and decides again", async () => {
    await close(number);
    const decide = (cookie: string, decision: string, because: string) =>
      send(at(number, "/release"), cookie, [
        ["decision", decision],
        ["because", because],
      ]);
    expect((await decide(hand, "released", "looks well")).status).toBe(403);
    expect((await decide(owner, "sold", "looks well")).status).toBe(422);
    expect((await decide(owner, "released", "")).status).toBe(422);
    expect((await decide(owner, "held", "Jars to be weighed")).status).toBe(303);
    expect((await decide(owner, "released", "All jars hold")).status).toBe(303);
    const { page } = await look(at(number), hand);
    expect(page).toMatch(/<strong>Released<\/strong>/);
    expect(page).toContain("<del>Held back</del>");
    expect(page).not.toContain("write-release");
    const batchPage = async () => (await look(`/maker/batches/${number}`, hand)).page;
    expect(await batchPage()).toMatch(/<strong>Released\.<\/strong> All jars hold/);
    await decide(owner, "rejected", "Smells of smoke");
    expect(await batchPage()).toContain("Rejected: send no jar of it");
    await decide(owner, "released", "It was the stove");
    expect(await batchPage()).not.toContain("send no jar of it");
    await send(at(number, "/deviation"), hand, [["words", "A lid was loose"]]);
    expect((await look(at(number))).page).toContain("Written since the decision, by place:");
  });

  it("takes the record away as a file that can be checked", async () => {
    const answer = await shop.request(at(number, ".json"), { headers: { cookie: hand } });
    expect(answer.headers.get("content-disposition")).toContain(`batch-record-${number}.json`);
    const file = (await answer.json()) as { entries: unknown[]; head: string };
    const { check } = await recordOf(number);
    expect(await verifyExport(file)).toMatchObject({
      faults: [],
      headDiffers: false,
      head: check.head,
    });
    expect(file.entries).toHaveLength(check.entries);
    expect(JSON.stringify(file)).not.toMatch(/minor|price|wren/i);
  });
});

describe("net contents", () => {
  let number = "";
  const path = () => `/maker/batches/${number}/contents`;
  const weigh = (weights: string, more: readonly (readonly [string, string])[] = []) =>
    send(path(), hand, [
      ["rule", "eu"],
      ["jars-0", "2"],
      ["tare-0", "68,4"],
      ["weights-0", weights],
      ...more,
    ]);
  beforeAll(async () => {
    number = await onBench();
  });

  it("are judged by the rule of the shop’s country and kept, with what to do", async () => {
    expect((await look(path(), hand)).page).toMatch(/value="eu" checked/);
    expect((await weigh("188,4 g\n188.9")).status).toBe(303);
    expect((await look(path())).page).toContain(
      "The label is kept. Weighed: 2. On average: 120.25\u00a0g.",
    );
    expect((await weigh("188.4; 182.2")).status).toBe(303);
    const { page } = await look(path());
    expect(page).toMatch(/Fill in 6\.2.g more in all/);
    expect(page).toMatch(/jar 2 \(113\.8.g\)/);
    const kept = (await recordOf(number)).entries.filter(({ kind }) => kind === "net-content");
    expect(kept.map(({ body }) => (body as { verdict: string }).verdict)).toEqual([
      "holds",
      "falls-short",
    ]);
    expect((await look(at(number))).page).toContain("Falls short");
  });

  it("say which jars are missing, and are kept all the same", async () => {
    expect((await weigh("188.4")).status).toBe(303);
    expect((await look(path())).page).toContain("To be weighed: 2. Written: 1.");
  });

  it.each([
    ["", [], "Nothing is weighed yet"],
    ["188.4 heavy", [], "cannot be “heavy”"],
    ["188.4 188.4 188.4", [], "3 weights are written, and 2 filled"],
    ["60", [], "less than the empty jar"],
    ["188.4 188.4", [["tare-0", "light"]], "the tare"],
    ["188.4 188.4", [["jars-0", "0"]], "how many were filled"],
    ["188.4 188.4", [["rule", "moon"]], "Choose the rule"],
  ] as const)(
    "of “%s” with %j are not taken, and stay in the form",
    async (weights, more, says) => {
      const before = (await recordOf(number)).check.entries;
      const fields = new Map<string, string>([
        ...([
          ["rule", "eu"],
          ["jars-0", "2"],
          ["tare-0", "68.4"],
          ["weights-0", weights],
        ] as const),
        ...more,
      ]);
      const answer = await send(path(), hand, [...fields]);
      expect(answer.status).toBe(422);
      const page = await answer.text();
      expect(page).toContain(says);
      expect(page).toContain(weights);
      expect((await recordOf(number)).check.entries).toBe(before);
    },
  );
});

describe("a batch from before its record was kept", () => {
  /** As the migration finds it: a batch without an entry. The guards are put back as they were. */
  async function withoutRecord(number: string): Promise<void> {
    const { id } = await rowOf(number);
    const guards = await shop.db.q.all<{ sql: string; name: string }>(
      sql`select name, sql from sqlite_master where type = 'trigger' and tbl_name = 'batch_record'`,
    );
    expect(guards).toHaveLength(3);
    for (const { name } of guards) await shop.db.q.run(sql.raw(`drop trigger ${name}`));
    await shop.db.q.delete(batchRecord).where(eq(batchRecord.batchId, id));
    for (const guard of guards) await shop.db.q.run(sql.raw(guard.sql));
  }

  it("begins with what is stored, marked as taken over", async () => {
    const number = await onBench();
    await close(number);
    await send(`/maker/batches/${number}/notes`, hand, [["words", "Smells of cocoa"]]);
    await withoutRecord(number);
    const { page } = await look(at(number), hand);
    expect(page).toContain("Unbroken, 1 entry");
    for (const words of ["older than its record", "TB-2207", "Smells of cocoa", "Weighed"]) {
      expect(page).toContain(words);
    }
    await look(at(number));
    expect(await kindsOf(number)).toEqual(["taken-over"]);
  });

  it("that is still open is taken over when it is closed", async () => {
    const number = await onBench();
    await withoutRecord(number);
    await close(number);
    expect(await kindsOf(number)).toEqual(["taken-over", "closed"]);
    expect((await look(at(number))).page).not.toContain("does not fit");
  });

  it("shows when the batch was changed beside its record", async () => {
    const number = await onBench();
    await close(number);
    const row = await rowOf(number);
    const closing = row.closing!.replace(/"usedMg":\d/, '"usedMg":9');
    expect(closing).not.toBe(row.closing);
    await shop.db.q.update(batches).set({ closing }).where(eq(batches.id, row.id));
    expect((await look(at(number))).page).toContain("stored closing of the batch is another");
    await shop.db.q
      .update(batches)
      .set({ state: "open", closing: null })
      .where(eq(batches.id, row.id));
    const { page } = await look(at(number));
    expect(page).toContain("This record does not fit");
    expect(page).toContain("gone further than its record");
  });
});

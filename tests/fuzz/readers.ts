/**
 * What must be so of every text that is read from outside: it is read to something that can be used, or refused in
 * words. Whatever else is thrown fails the test.
 */
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect } from "vitest";
import type { Problem } from "#core/wire.ts";
import { ingredientById } from "#data/library.ts";
import { runCommand } from "#service/commands/run.ts";
import { Refusal } from "#service/problem.ts";
import type { Shop } from "#service/ports.ts";
import {
  type CertificateText,
  certificateOf,
  readCertificate,
} from "#service/shelf/certificate.ts";
import type { DayOrder } from "#service/shelf/days.ts";
import { type COLUMNS, lookAt } from "#service/shelf/file-work.ts";
import { decodeTable } from "#service/shelf/table.ts";

const SHOWN_MOST = 2000;
const FILE = join(mkdtempSync(join(tmpdir(), "softset-fuzz-")), "blend.json");

/** @returns whether it was judged; else it was refused with a code and a sentence */
export async function judgesWell(text: string, says: string): Promise<boolean> {
  writeFileSync(FILE, text);
  const { status, stdout, stderr } = await runCommand(["judge", FILE]);
  const about = `${says}: ${text.slice(0, SHOWN_MOST)}`;
  if (status === 2) {
    const { code, detail } = JSON.parse(stderr) as Problem;
    expect([code.split(".").length > 1, detail.length > 10], about).toEqual([true, true]);
    return false;
  }
  const { verdict, solidFat } = JSON.parse(stdout) as {
    verdict: string;
    solidFat: Record<string, number>[];
  };
  expect(["orderable", "refused", "cannot-judge"], about).toContain(verdict);
  for (const each of solidFat) {
    // NaN and infinity would be null, and more than all of a fat is no figure.
    const figures = [each["fresh"], each["settled"], each["low"], each["high"]];
    const areGood = figures.every((of) => typeof of === "number" && of >= 0 && of <= 100);
    expect(areGood, about).toBe(true);
  }
  return true;
}

const GROUND = {
  shopId: "quillfen",
  currency: { code: "GBP", exponent: 2 },
  today: "2026-11-28",
  at: 1,
  personId: null,
};

/** Planned row by row and written, or refused as a whole. */
export async function readsTable(
  shop: Shop,
  sent: { readonly kind: keyof typeof COLUMNS; readonly text: string; readonly days: DayOrder },
  says: string,
): Promise<void> {
  const text = decodeTable(new TextEncoder().encode(sent.text));
  if (text === undefined) return;
  const looked = await lookAt(shop, { kind: sent.kind, text }, sent.days, GROUND);
  const about = `${says}: ${JSON.stringify(text).slice(0, SHOWN_MOST)}`;
  if ("fault" in looked) {
    expect(looked.fault, about).toMatch(/\.$/);
    return;
  }
  for (const { sentence, row } of looked.plan.faults) {
    expect([sentence.trim() !== "", row >= 2], about).toEqual([true, true]);
  }
  await looked.write();
}

/** Kept so that it can be read again, or refused. */
export function readsCertificate(typed: CertificateText, says: string): void {
  const read = readCertificate(typed, ingredientById("cocoa-butter")!);
  const about = `${says}: ${JSON.stringify(typed).slice(0, SHOWN_MOST)}`;
  if ("read" in read) expect(() => certificateOf({ certificate: read.read }), about).not.toThrow();
  else for (const { sentence } of read.faults) expect(sentence.trim(), about).not.toBe("");
}

/** Code of the refusal; any other error is thrown on. */
export async function refusalOf(work: Promise<unknown>): Promise<string> {
  try {
    await work;
    return "opened";
  } catch (error) {
    if (error instanceof Refusal) return error.code;
    throw error;
  }
}

/**
 * The papers of the bench in its language: chosen in the settings, for one print by its address, and else the shop's.
 */
import { eq } from "drizzle-orm";
import { afterAll, beforeAll, expect, it } from "vitest";
import { batches, shops } from "#data/schema.ts";
import { particularsOf } from "#service/particulars.ts";
import { englishLeft, readable } from "../../helpers/english-left.ts";
import { fieldsOn } from "../../helpers/form-fields.ts";
import { type Fields, payOrder, sendForm } from "../../helpers/shop-acts.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";
import { plain, readPdf } from "../documents/pdf/read-pdf.ts";

const SHOP = "quillfen";
let shop: TestShop;
let owner: string;
let batch: string;
let number: string;

beforeAll(async () => {
  shop = await openTestShop();
  owner = await shop.signIn();
  const { id } = await payOrder(shop);
  const issued = await send("/maker/batches", [
    ["order", id],
    ["short", "go"],
  ]);
  batch = issued.headers.get("location")!;
  number = batch.split("/").at(-1)!;
});
afterAll(() => shop.close());

const send = (path: string, fields: Fields) => sendForm(shop, path, owner, fields);
const look = (path: string) =>
  shop.request(path, { headers: { cookie: owner, accept: "text/html" } });
const page = async (path: string) => await (await look(path)).text();

async function pdf(path: string) {
  const { pages, title } = await readPdf(new Uint8Array(await (await look(path)).arrayBuffer()));
  return { title, words: plain(pages.map(({ words }) => words).join(" ")) };
}

/** Save some of the shop's settings; what a form does not hold stays as it is stored. */
async function settle(changed: Readonly<Record<string, string>>) {
  const [, revision] = /name="revision" value="(\d+)"/.exec(await page("/maker/shop"))!;
  return await send("/maker/shop", Object.entries({ revision: revision!, ...changed }));
}

/** What a person reads of the paper itself, without what only the screen shows. */
const paperOf = (html: string) =>
  readable(
    html.replace(/<nav\b.*?<\/nav>/s, "").replaceAll(/<(\w+)[^>]* lang="en"[^>]*>.*?<\/\1>/gs, ""),
  );

it("speaks the shop's own language until the bench says otherwise, and that after", async () => {
  expect(await page(`${batch}/sheets`)).toContain('<html lang="en-GB"');
  expect((await settle({ locale: "de-AT" })).status).toBe(303);
  expect(await page(`${batch}/sheets`)).toContain('<html lang="de-AT"');
  expect((await settle({ benchLanguage: "es" })).status).toBe(303);
  const sheet = await page(`${batch}/sheets`);
  expect(sheet).toContain('<html lang="es"');
  expect(sheet).toContain("Orden de trabajo");
  expect(englishLeft(paperOf(sheet))).toEqual([]);
  const file = await pdf(`${batch}/sheets-a4.pdf`);
  expect(file.title).toBe(`Orden de trabajo ${number}`);
  expect(file.words).toContain("Manteca de karité");
});

it("is another for one print, whose files and other papers keep to it only where they are asked", async () => {
  const sheet = await page(`${batch}/sheets?language=fr`);
  expect(sheet).toContain('<html lang="fr"');
  expect(sheet).toContain(`${batch}/sheets-a4.pdf?language&#x3D;fr`);
  expect(sheet).toMatch(/lang="fr" hreflang="fr" aria-current="true">Français/);
  const { title, words } = await pdf(`${batch}/sheets-letter.pdf?language=fr`);
  expect(title).toBe(`Ordre de fabrication ${number}`);
  expect(words).toContain("Beurre de karité");
  expect(await page(`${batch}/sheets`)).toContain('<html lang="es"');
  // The shop's own German is Austria's, and stays so.
  expect(await page(`${batch}/sheets?language=de`)).toContain('<html lang="de-AT"');
});

it.each(["sheets", "sheets-a4.pdf", "record", "record-letter.pdf", "contents"])(
  "is told apart from one that %s cannot speak, with what to do",
  async (what) => {
    const answer = await look(`${batch}/${what}?language=xx`);
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain("Deutsch");
  },
);

it("is asked for in the settings from a list, and an unknown one is not stored", async () => {
  const answer = await settle({ benchLanguage: "xx" });
  expect(answer.status).toBe(422);
  expect(await answer.text()).toContain("Choose a language from the list.");
  const [row] = await shop.db.q.select().from(shops).where(eq(shops.id, SHOP));
  expect(particularsOf(row!).benchLanguage).toBe("es");
});

it("is the record's and the net contents', and no language changes what the record holds", async () => {
  const before = await page(`${batch}/record.json`);
  const checks = [...(await page(`${batch}/record`)).matchAll(/name="check" value="([^"]+)"/g)];
  await send(`${batch}/record/started`, [
    ...checks.map(([, check]) => ["check", check!] as const),
    ["seen", "1"],
  ]);
  const step = /<option value="(0:[^"]+)"/.exec(await page(`${batch}/record`))![1]!;
  await send(`${batch}/record/step`, [
    ["step", step],
    ["celsius", "78.5"],
    ["words", "Caliente"],
  ]);
  await send(`${batch}/contents`, [
    ["rule", "eu"],
    ["jars-0", "2"],
    ["tare-0", "0"],
    ["weights-0", "120.4 113.8"],
  ]);
  await send(`${batch}/close`, fieldsOn(await page(`${batch}/close`)));
  for (const [asked, says, heads] of [
    [
      "",
      ["Registro del lote", "Comprobado: La orden de trabajo", "Pesar", "78,5", "Añadir 5,8"],
      "Pedido Hecho Objetivo Pesado Desvío",
    ],
    [
      "?language=de",
      ["Protokoll der Charge", "Nachgesehen: Die Herst", "Abwiegen", "5,8\u00a0g"],
      "Bestellt Gemacht Soll Gewogen Differenz",
    ],
    [
      "?language=fr",
      ["Dossier du lot", "Vérifié\u00a0: L’ordre", "Peser", "Ajouter 5,8"],
      "Prévu Fait Cible Pesé Écart",
    ],
  ] as const) {
    const record = paperOf(await page(`${batch}/record${asked}`));
    const { words } = await pdf(`${batch}/record-a4.pdf${asked}`);
    for (const each of says) {
      expect(record).toContain(each);
      expect(words).toContain(plain(each));
    }
    expect(words).toContain(heads);
    expect(englishLeft(record)).toEqual([]);
    expect(englishLeft(words)).toEqual([]);
  }
  expect(await page(`${batch}/contents`)).toContain("Contenidos netos del lote");
  const after = await page(`${batch}/record.json`);
  expect(after).toContain("Fill in 5.8");
  expect(after).toContain("The work order and all materials are here");
  const entriesOf = (file: string) => (JSON.parse(file) as { entries: unknown[] }).entries;
  expect(entriesOf(after).slice(0, 1)).toEqual(entriesOf(before));
});

it("reads a batch from before papers had languages in the words it was issued in", async () => {
  const [row] = await shop.db.q.select().from(batches).where(eq(batches.number, number));
  const stored = JSON.parse(row!.workOrder) as {
    runs: { workOrder: { steps: { sentences: unknown[] }[] } }[];
  };
  stored.runs[0]!.workOrder.steps[0]!.sentences = ["Clear and wipe the old bench."];
  const workOrder = JSON.stringify(stored);
  await shop.db.q.update(batches).set({ workOrder }).where(eq(batches.id, row!.id));
  const sheet = await page(`${batch}/sheets`);
  expect(sheet).toContain("Clear and wipe the old bench.");
  expect(sheet).toContain("Fundir y mantener");
});

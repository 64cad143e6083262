/**
 * Tables of ingredients and lots: taken out, brought in, looked at, written.
 */
import { textOf } from "../../typed/text.ts";
import { readForm } from "../../middleware.ts";
import { Hono } from "hono";
import {
  type FileKind,
  filesPage,
  previewPage,
  unreadablePage,
} from "../../pages/maker-shelf-files.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import { DAY_ORDERS, type DayOrder } from "../../shelf/days.ts";
import { COLUMNS, lookAt } from "../../shelf/file-work.ts";
import { ingredientCells } from "../../shelf/ingredients-file.ts";
import { lotCells } from "../../shelf/lots-file.ts";
import { TABLE_MOST_BYTES, decodeTable, writeTable } from "../../shelf/table.ts";
import { attachment } from "../attachment.ts";
import { makerPage } from "./page.ts";
import { type ShelfGround, shelfGround } from "./shelf-ground.ts";
import type { Signed, SignedContext } from "./visit.ts";

const HERE = "/maker/shelf/files";

const TEMPLATES: Readonly<Record<FileKind, readonly Readonly<Record<string, string>>[]>> = {
  ingredients: [
    {
      ...{ ingredient: "Shea butter", name: "Shea, the large tub", supplier: "Your supplier" },
      ...{ pack: "5 kg", price: "48.50", refined: "unrefined", doseMost: "", lowBelow: "1 kg" },
    },
  ],
  lots: [
    {
      ...{ ingredient: "Shea, the large tub", code: "A-1234", supplier: "Your supplier" },
      ...{ quantity: "5 kg", onHand: "4.2 kg", cost: "48.50", note: "papers in the green folder" },
    },
  ],
};

export function shelfFileRoutes(shop: Shop) {
  const asTable = (c: SignedContext, name: string, text: string) =>
    c.body(text, 200, {
      "content-type": "text/csv; charset=utf-8",
      "content-disposition": attachment(`${name}.csv`),
    });

  const template = (c: SignedContext, kind: FileKind) =>
    asTable(c, `template-${kind}`, writeTable(COLUMNS[kind], TEMPLATES[kind]));

  async function upload(c: SignedContext, id: string) {
    const found = await shop.csvUploads.byId(c.get("shopId"), id);
    if (found) return found;
    const detail = "This file is no longer here: it is kept for a day. Please bring it again.";
    throw new Refusal("shelf.file.unknown", detail);
  }

  async function looked(c: SignedContext, ground: ShelfGround) {
    const found = await upload(c, c.req.param("id")!);
    return { found, looked: await lookAt(shop, found, orderOf(c.req.query("days")), ground) };
  }

  return new Hono<Signed>()
    .get("/", async (c) => {
      const model = filesPage("ingredients", "year-first", []);
      return c.html(await makerPage(shop, c, "shelf", "maker-shelf-files", model));
    })
    .post("/", async (c) => {
      const form = await readForm(c);
      const kind: FileKind = textOf(form, "kind") === "lots" ? "lots" : "ingredients";
      const days = orderOf(textOf(form, "days"));
      const read = await textOfFile(form.get("file"));
      if ("fault" in read) {
        const model = filesPage(kind, days, [{ field: "", sentence: read.fault }]);
        return c.html(await makerPage(shop, c, "shelf", "maker-shelf-files", model), 422);
      }
      const id = shop.numbers.id();
      const receivedAt = shop.clock.seconds();
      const { text } = read;
      await shop.csvUploads.add({ id, shopId: c.get("shopId"), kind, text, receivedAt });
      return c.redirect(`${HERE}/${id}?days=${days}`, 303);
    })
    .get("/ingredients.csv", async (c) => {
      const { shopId, currency } = shelfGround(shop, c);
      const rows = (await shop.ingredients.ofShop(shopId)).filter((row) => row.archivedAt === null);
      return asTable(
        c,
        "ingredients",
        writeTable(COLUMNS.ingredients, ingredientCells(rows, currency)),
      );
    })
    .get("/lots.csv", async (c) => {
      const { shopId, currency } = shelfGround(shop, c);
      const lots = (await shop.lots.ofShop(shopId)).filter((lot) => lot.archivedAt === null);
      return asTable(c, "lots", writeTable(COLUMNS.lots, lotCells(lots, currency)));
    })
    .get("/template-ingredients.csv", (c) => template(c, "ingredients"))
    .get("/template-lots.csv", (c) => template(c, "lots"))
    .get("/:id", async (c) => {
      const { found, looked: seen } = await looked(c, shelfGround(shop, c));
      const days = orderOf(c.req.query("days"));
      const href = {
        apply: `${HERE}/${found.id}/write?days=${days}`,
        faults: `${HERE}/${found.id}/rows-to-mend.csv?days=${days}`,
      };
      const model =
        "fault" in seen
          ? unreadablePage(seen.fault)
          : previewPage(seen.plan, { kind: found.kind, href, strange: seen.strange });
      const status = "fault" in seen ? 422 : 200;
      return c.html(await makerPage(shop, c, "shelf", "maker-shelf-preview", model), status);
    })
    .get("/:id/rows-to-mend.csv", async (c) => {
      const { looked: seen } = await looked(c, shelfGround(shop, c));
      const faults = "fault" in seen ? [] : seen.plan.faults;
      const columns = [
        { key: "row", heading: "Row" },
        { key: "column", heading: "Column" },
        { key: "sentence", heading: "What to do" },
      ];
      const rows = faults.map(({ row, column, sentence }) => ({
        row: String(row),
        column,
        sentence,
      }));
      return asTable(c, "rows-to-mend", writeTable(columns, rows));
    })
    .post("/:id/write", async (c) => {
      const { found, looked: seen } = await looked(c, shelfGround(shop, c));
      if (!("fault" in seen)) await seen.write();
      return c.redirect(`${HERE}/${found.id}?days=${orderOf(c.req.query("days"))}`, 303);
    });
}

function orderOf(text: string | undefined): DayOrder {
  return DAY_ORDERS.find((each) => each === text) ?? "year-first";
}

async function textOfFile(file: unknown): Promise<{ text: string } | { fault: string }> {
  if (!(file instanceof File) || file.size === 0)
    return { fault: "Choose a file that is not empty." };
  if (file.size > TABLE_MOST_BYTES) {
    return { fault: "The file is larger than 4 MiB. Bring it in two or more parts." };
  }
  const text = decodeTable(new Uint8Array(await file.arrayBuffer()));
  if (text !== undefined) return { text };
  return {
    fault: "These are not the letters of a table. Save it as “CSV UTF-8” and bring it again.",
  };
}

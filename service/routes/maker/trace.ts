/**
 * Tracing: both roles may, and only the owner sees whose jars they are.
 */
import { Hono } from "hono";
import { pantryOf } from "../../actions/pantry.ts";
import { type Eyes, readJarAsked, recallCsv, tracesOf } from "../../batches/recall.ts";
import { jarTracePage, lotTracePage, tracePage } from "../../pages/maker-trace.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import { attachment } from "../attachment.ts";
import { makerPage } from "./page.ts";
import type { Signed, SignedContext } from "./visit.ts";

export function traceRoutes(shop: Shop) {
  const eyesOf = (c: SignedContext): Eyes => c.get("visit").role;

  async function model(c: SignedContext) {
    const shopId = c.get("shopId");
    const text = (name: string) => (c.req.query(name) ?? "").trim().slice(0, 200);
    const [lotId, code, jar] = [text("lot"), text("code"), text("jar")];
    const owner = c.get("owner");
    const asked = { lot: code, jar };
    /** Names of what the rows are of. */
    const namesOf = async (rows: readonly { readonly ingredientId: string | null }[]) => {
      const ids = rows.flatMap(({ ingredientId }) => ingredientId ?? []);
      return (await pantryOf(shop, shopId, ids)).ingredientOf;
    };
    if (lotId !== "" || code !== "") {
      const rows = await shop.trace.forwards(shopId, lotId === "" ? { code } : { lotId });
      const unknown = `No lot carries the code “${code}”. Look at the pack, or for the lot on the shelf.`;
      if (rows.length === 0) return tracePage(asked, unknown);
      const whole = c.req.query("whole") === "yes";
      return lotTracePage(owner, asked, tracesOf(rows, eyesOf(c)), await namesOf(rows), whole);
    }
    if (jar === "") return tracePage(asked);
    const wanted = readJarAsked(jar);
    const form =
      "Write the batch number as on the label, 261125-01, or the order’s six characters.";
    if (!wanted) return tracePage(asked, form);
    const rows = await shop.trace.backwards(shopId, wanted);
    if (rows.length > 0) return jarTracePage(owner, asked, rows, await namesOf(rows));
    return tracePage(asked, `Nothing was made under “${jar}”. ${form}`);
  }

  return new Hono<Signed>()
    .get("/", async (c) => c.html(await makerPage(shop, c, "trace", "maker-trace", await model(c))))
    .get("/recall.csv", async (c) => {
      const lotId = c.req.query("lot") ?? "";
      const rows = await shop.trace.forwards(c.get("shopId"), { lotId });
      if (rows.length === 0) throw new Refusal("make.lot.unknown", "There is no such lot.");
      const csv = recallCsv(tracesOf(rows, eyesOf(c)), eyesOf(c));
      return c.body(csv, 200, {
        "content-type": "text/csv; charset=utf-8",
        "content-disposition": attachment("recall.csv"),
      });
    });
}

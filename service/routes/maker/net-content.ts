/**
 * Net contents of a batch: the weights of filled jars, judged by the rule of the market and kept in its record.
 */
import { Hono } from "hono";
import type { NetContentRule } from "#core/make/net-content.ts";
import { openBench } from "../../batches/bench-day.ts";
import { batchOf } from "../../batches/close.ts";
import {
  type JarFields,
  emptyJarFields,
  jarFieldsOf,
  weighedJars,
  readNetContents,
  ruleOfCountry,
} from "../../batches/net-content.ts";
import { sheetOf } from "../../batches/record-sheet.ts";
import { beginRecord, readRecord, tellRecord } from "../../batches/record.ts";
import { readForm } from "../../middleware.ts";
import { netContentPage } from "../../pages/maker-net-content.ts";
import type { Shop } from "../../ports.ts";
import { languageAsked, shopForBench } from "../../words/bench.ts";
import { textOf } from "../../typed/text.ts";
import { makerPage } from "./page.ts";
import type { Signed, SignedContext } from "./visit.ts";

export function netContentRoutes(shop: Shop) {
  async function look(c: SignedContext) {
    const batch = await batchOf(shop, c.get("shopId"), c.req.param("number")!);
    await beginRecord(shop, batch, c.get("visit").name);
    const { entries } = await readRecord(shop, batch);
    const sheet = sheetOf(entries);
    const { particulars } = openBench(shop, c.get("owner"));
    return { batch, kinds: weighedJars(sheet.runs), checks: sheet.netContents, particulars };
  }

  async function show(
    c: SignedContext,
    looked: Awaited<ReturnType<typeof look>>,
    rule: NetContentRule | undefined,
    fields: readonly JarFields[],
    faults: readonly string[] = [],
  ) {
    const model = netContentPage(
      shopForBench(c.get("owner"), languageAsked(c.req.query("language"))),
      { ...looked, rule, fields, faults },
    );
    return await makerPage(shop, c, "batches", "maker-net-content", model);
  }

  return new Hono<Signed>()
    .get("/:number/contents", async (c) => {
      const looked = await look(c);
      const rule = ruleOfCountry(looked.particulars.country);
      return c.html(await show(c, looked, rule, emptyJarFields(looked.kinds)));
    })
    .post("/:number/contents", async (c) => {
      const form = await readForm(c);
      const looked = await look(c);
      const { batch, kinds, particulars } = looked;
      const fields = jarFieldsOf(form, kinds);
      const typed = textOf(form, "rule");
      const rule = typed === "eu" || typed === "us" ? typed : undefined;
      const read = readNetContents(kinds, fields, rule, particulars.scaleStepMg);
      const faults =
        batch.state === "set-aside"
          ? [`Batch ${batch.number} is set aside, so no jar of it is filled.`]
          : "faults" in read
            ? read.faults
            : [];
      if (faults.length > 0 || "faults" in read) {
        return c.html(await show(c, looked, rule, fields, faults), 422);
      }
      const by = c.get("visit").name;
      const told = read.bodies.map((body) => ({ kind: "net-content" as const, by, body }));
      await tellRecord(shop, batch, ...told);
      return c.redirect(`/maker/batches/${batch.number}/contents#checks`, 303);
    });
}

/**
 * The maker's kitchen: test jars, what is learned from them, and which law the shop judges by.
 */
import { textOf } from "../../typed/text.ts";
import { readForm } from "../../middleware.ts";
import { Hono } from "hono";
import { jarFieldsOf } from "../../batches/test-jar.ts";
import { EMPTY_FIELDS, type JarFields, fieldsOf } from "../../kitchen/jar-fields.ts";
import { readJarForm } from "../../kitchen/jar-form.ts";
import { openKitchen, productsOf } from "../../kitchen/kitchen.ts";
import { kitchenPage } from "../../pages/maker-kitchen.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import { Conflict } from "../../storage/database.ts";
import { NOT_WHOLE, isDrawnId, wholeIn } from "../../typed/form-carried.ts";
import { makerPage } from "./page.ts";
import type { Signed, SignedContext } from "./visit.ts";

const HERE = "/maker/kitchen";

/** Routes under the maker's signed part, which sets the shop. */
export function kitchenRoutes(shop: Shop) {
  async function show(c: SignedContext, written: Partial<Parameters<typeof kitchenPage>[2]>) {
    const shopId = c.get("shopId");
    const [kitchen, products] = await Promise.all([
      openKitchen(shop, shopId),
      productsOf(shop, shopId),
    ]);
    const form = {
      id: shop.numbers.id(),
      fields: EMPTY_FIELDS,
      faults: [],
      notice: "",
      ...written,
    };
    const model = kitchenPage(c.get("owner"), kitchen, form, products);
    return await makerPage(shop, c, "kitchen", "maker-kitchen", model);
  }

  /** Store a jar; a form sent twice is stored once, because it carries the jar's id. */
  async function writeDown(shopId: string, id: string, fields: JarFields) {
    const read = readJarForm(fields, await productsOf(shop, shopId));
    if ("faults" in read) return read.faults;
    const batch = fields.batch && (await shop.batches.byNumber(shopId, fields.batch));
    if (batch === undefined) return [`There is no batch ${fields.batch.slice(0, 40)}.`];
    const recordedAt = shop.clock.seconds();
    try {
      const batchId = batch === "" ? null : batch.id;
      await shop.testJars.add({ id, shopId, batchId, recordedAt, ...read.jar });
    } catch (error) {
      if (!(error instanceof Conflict && (await shop.testJars.byId(shopId, id)))) throw error;
    }
    return [];
  }

  async function setStruck(c: SignedContext, struckAt: number | null) {
    const [shopId, id] = [c.get("shopId"), c.req.param("id") ?? ""];
    if (!(await shop.testJars.byId(shopId, id))) {
      throw new Refusal("judge.test-jar.unknown", "There is no such test jar.");
    }
    await shop.testJars.setStruck(shopId, id, struckAt);
    return c.redirect(`${HERE}#jars`, 303);
  }

  /** @returns a sentence when the law was not changed */
  async function changeLaw(shopId: string, use: string, since: number): Promise<string> {
    const { fit, learned, errors, inForce } = await openKitchen(shop, shopId);
    if (use !== "own" && use !== "published")
      return "Choose your kitchen’s law or the published one.";
    if (use === "own" && !fit.ok) return fit.because;
    if (since !== inForce.revision) return LAW_MOVED;
    const at = shop.clock.seconds();
    try {
      const own = use === "own";
      const law = own ? learned.law : undefined;
      await shop.kitchenLaws.adopt(shopId, since, law, { jars: own ? errors.jars : 0, at });
    } catch (error) {
      if (!(error instanceof Conflict)) throw error;
      return LAW_MOVED;
    }
    return "";
  }

  return new Hono<Signed>()
    .get("/", async (c) => {
      const number = c.req.query("batch");
      if (number === undefined) return c.html(await show(c, {}));
      return c.html(await show(c, { fields: await jarFieldsOf(shop, c.get("shopId"), number) }));
    })
    .post("/jars", async (c) => {
      const form = await readForm(c);
      const id = textOf(form, "id");
      if (!isDrawnId(id)) throw new Refusal("judge.test-jar.unknown", NOT_WHOLE);
      const fields = fieldsOf(form);
      const faults = await writeDown(c.get("shopId"), id, fields);
      if (faults.length === 0) return c.redirect(`${HERE}#jars`, 303);
      return c.html(await show(c, { id, fields, faults }), 422);
    })
    .post("/jars/:id/strike", (c) => setStruck(c, shop.clock.seconds()))
    .post("/jars/:id/restore", (c) => setStruck(c, null))
    .post("/law", async (c) => {
      const form = await readForm(c);
      const since = wholeIn(form, "since");
      const notice = await changeLaw(c.get("shopId"), textOf(form, "use"), since);
      return notice === "" ? c.redirect(HERE, 303) : c.html(await show(c, { notice }), 422);
    });
}

const LAW_MOVED =
  "The law was changed while this page was open. Nothing was changed now: look at what is in force and choose again.";

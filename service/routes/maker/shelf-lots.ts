/**
 * One lot: looked at, counted, written off, undone, blocked, put away, put right.
 */
import { readForm } from "../../middleware.ts";
import { Hono } from "hono";
import { meanwhileOf } from "../../pages/maker-shelf-form.ts";
import { lotFormPage } from "../../pages/maker-shelf-lot-form.ts";
import {
  LEDGER_MOST,
  type LotSays,
  STOCK_FIELDS,
  type StockFields,
  lotPage,
  mayUndo,
} from "../../pages/maker-shelf-lot.ts";
import { momentIn } from "../../pages/maker-pages.ts";
import { lotHref } from "../../pages/maker-shelf.ts";
import type { Shop } from "../../ports.ts";
import { readAmount, sayMass, writeMass } from "../../shelf/amount.ts";
import { certificateText } from "../../shelf/certificate.ts";
import type { Fault } from "../../typed/fault.ts";
import { LOT_FIELDS, type LotFields, lotFieldsOf, readLot } from "../../shelf/lot-fields.ts";
import { Conflict, StockShort } from "../../storage/database.ts";
import type { LotRow } from "../../storage/lots.ts";
import type { NewMovement } from "../../storage/stock.ts";
import { blankFields, textFields } from "../../typed/fields.ts";
import { NOTE_LONGEST, lengthFault } from "../../typed/length.ts";
import { makerPage } from "./page.ts";
import {
  type ShelfGround,
  ownIngredient,
  ownLot,
  shelfGround,
  wholeField,
} from "./shelf-ground.ts";
import type { Signed, SignedContext } from "./visit.ts";

const QUIET: LotSays = { fields: blankFields(STOCK_FIELDS), faults: [], overtaken: false };
const USES_MOST = 200;

interface Asked {
  readonly ground: ShelfGround;
  readonly lot: LotRow;
  readonly form: FormData;
  readonly fields: StockFields;
}

/** What a form of the lot's page leads to. */
type Outcome = Fault | { readonly write: () => Promise<void> };

export function shelfLotRoutes(shop: Shop) {
  async function show(c: SignedContext, ground: ShelfGround, id: string, says: LotSays) {
    const lot = await ownLot(shop, ground.shopId, id);
    const [{ ingredient }, ledger, uses] = await Promise.all([
      ownIngredient(shop, ground.shopId, lot.ingredientId),
      shop.stock.movements(lot.id, LEDGER_MOST + 1),
      shop.lots.uses(lot.id, USES_MOST),
    ]);
    const said = { ...ground, when: momentIn(ground.owner) };
    const model = lotPage(said, lot, ingredient, { ledger, uses }, says);
    return await makerPage(shop, c, "shelf", "maker-shelf-lot", model);
  }

  /** Carry a form of the lot's page out: a fault shows the page again, and so does somebody who was there first. */
  async function carryOut(c: SignedContext, decide: (asked: Asked) => Outcome | Promise<Outcome>) {
    const ground = shelfGround(shop, c);
    const lot = await ownLot(shop, ground.shopId, c.req.param("id")!);
    const form = await readForm(c);
    const fields = textFields(form, STOCK_FIELDS);
    const outcome = longNote(fields) ?? (await decide({ ground, lot, form, fields }));
    const again = async (says: Partial<LotSays>, status: 409 | 422) =>
      c.html(await show(c, ground, lot.id, { ...QUIET, fields, ...says }), status);
    if ("sentence" in outcome) return await again({ faults: [outcome] }, 422);
    try {
      await outcome.write();
    } catch (error) {
      if (error instanceof Conflict) return await again({ overtaken: true }, 409);
      if (!(error instanceof StockShort)) throw error;
      return await again({ faults: [shortOf(lot, ground)] }, 422);
    }
    return c.redirect(lotHref(lot.id), 303);
  }

  const move = (
    { ground, lot, form }: Asked,
    movement: Pick<NewMovement, "deltaMg" | "why" | "note">,
  ) => {
    const last = wholeField(form, "last");
    const { at, personId } = ground;
    const whole = { lotId: lot.id, batchId: null, at, personId, ...movement };
    return { write: () => shop.stock.record(whole, last) };
  };

  const change = ({ ground, lot, form }: Asked, to: Parameters<typeof shop.lots.save>[2]) => {
    const since = wholeField(form, "revision");
    return { write: () => shop.lots.save(ground.shopId, lot.id, to, since) };
  };

  async function editForm(
    c: SignedContext,
    ground: ShelfGround,
    lot: LotRow,
    says: Parameters<typeof lotFormPage>[3],
  ) {
    const { ingredient } = await ownIngredient(shop, ground.shopId, lot.ingredientId);
    const model = lotFormPage(ground, ingredient, { id: lot.id, lot }, says);
    return await makerPage(shop, c, "shelf", "maker-shelf-lot-form", model);
  }

  return new Hono<Signed>()
    .get("/:id", async (c) => c.html(await show(c, shelfGround(shop, c), c.req.param("id"), QUIET)))
    .post("/:id/count", (c) =>
      carryOut(c, async (asked) => {
        const { lot, fields, ground } = asked;
        const { ingredient } = await ownIngredient(shop, ground.shopId, lot.ingredientId);
        const amount = readAmount(fields.counted, ingredient, 0);
        if ("fault" in amount) return { field: "counted", sentence: amount.fault };
        const deltaMg = amount.mg - lot.onHandMg;
        return move(asked, { deltaMg, why: "count", note: fields.countNote });
      }),
    )
    .post("/:id/waste", (c) =>
      carryOut(c, async (asked) => {
        const { lot, fields, ground } = asked;
        const { ingredient } = await ownIngredient(shop, ground.shopId, lot.ingredientId);
        const amount = readAmount(fields.wasted, ingredient);
        if ("fault" in amount) return { field: "wasted", sentence: amount.fault };
        if (amount.mg > lot.onHandMg) return shortOf(lot, ground);
        return move(asked, { deltaMg: -amount.mg, why: "waste", note: fields.wasteNote });
      }),
    )
    .post("/:id/undo", (c) =>
      carryOut(c, async (asked) => {
        const [last] = await shop.stock.movements(asked.lot.id, 1);
        if (!mayUndo(last)) {
          return {
            field: "",
            sentence:
              "The last movement cannot be undone here. A batch is put right on its own page.",
          };
        }
        const note = `the movement before: ${last.why}`;
        return move(asked, { deltaMg: -last.deltaMg, why: "undone", note });
      }),
    )
    .post("/:id/block", (c) =>
      carryOut(c, (asked) => {
        const { because } = asked.fields;
        if (because === "") return { field: "because", sentence: "Say why it is blocked." };
        return change(asked, { blockedBecause: because });
      }),
    )
    .post("/:id/unblock", (c) => carryOut(c, (asked) => change(asked, { blockedBecause: null })))
    .post("/:id/put-away", (c) =>
      carryOut(c, (asked) => change(asked, { archivedAt: asked.ground.at })),
    )
    .post("/:id/put-back", (c) => carryOut(c, (asked) => change(asked, { archivedAt: null })))
    .get("/:id/edit", async (c) => {
      const ground = shelfGround(shop, c);
      const lot = await ownLot(shop, ground.shopId, c.req.param("id"));
      const fields = lotFieldsOf(lot, ground.currency, certificateText(lot));
      return c.html(await editForm(c, ground, lot, { fields, revision: lot.revision, faults: [] }));
    })
    .post("/:id/edit", async (c) => {
      const ground = shelfGround(shop, c);
      const { shopId } = ground;
      const lot = await ownLot(shop, shopId, c.req.param("id"));
      const { ingredient } = await ownIngredient(shop, shopId, lot.ingredientId);
      const form = await readForm(c);
      const since = wholeField(form, "revision");
      const typed = textFields(form, LOT_FIELDS);
      const fields: LotFields = { ...typed, quantity: writeMass(lot.receivedMg) };
      const reading = readLot(fields, { ...ground, ingredient });
      if ("faults" in reading) {
        const says = { fields, revision: since, faults: reading.faults };
        return c.html(await editForm(c, ground, lot, says), 422);
      }
      try {
        await shop.lots.save(shopId, lot.id, reading.read, since);
        return c.redirect(lotHref(lot.id), 303);
      } catch (error) {
        if (!(error instanceof Conflict)) throw error;
        const now = await ownLot(shop, shopId, lot.id);
        if (now.revision === since) {
          const sentence = "Another lot of this ingredient bears that code already.";
          const says = { fields, revision: since, faults: [{ field: "code", sentence }] };
          return c.html(await editForm(c, ground, lot, says), 422);
        }
        const stored = lotFieldsOf(now, ground.currency, certificateText(now));
        const meanwhile = meanwhileOf(stored, fields, FIELD_WORDS);
        const says = { fields, revision: now.revision, faults: [], meanwhile };
        return c.html(await editForm(c, ground, now, says), 409);
      }
    });
}

/** What stands against the length of a note on the lot's page. */
function longNote(fields: StockFields): Fault | undefined {
  return (["countNote", "wasteNote", "because"] as const)
    .map((field) => ({ field, sentence: lengthFault("it", fields[field], NOTE_LONGEST) }))
    .find(({ sentence }) => sentence !== "");
}

function shortOf({ onHandMg }: LotRow, { locale }: ShelfGround): Fault {
  const left = onHandMg === 0 ? "Nothing is" : `Only ${sayMass(onHandMg, locale)} is`;
  const sentence = `${left} left of this lot. Check the amount; if more is there, count the lot first.`;
  return { field: "wasted", sentence };
}

/** A cost of zero tells that it was free, and what arrived does not change. */
const FIELD_WORDS: Readonly<Partial<Record<keyof LotFields, string>>> = {
  ...{ code: "Lot code", supplier: "Supplier", cost: "Cost", receivedOn: "Received on" },
  ...{ bestBefore: "Best before", note: "Note", fattyAcids: "Fatty acids", solidFat: "Solid fat" },
  ...{ triacylglycerols: "Triacylglycerols", sn2: "Fatty acids at sn-2" },
};

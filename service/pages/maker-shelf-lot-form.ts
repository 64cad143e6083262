/**
 * The form of a lot: received, or put right later.
 */
import type { Ingredient } from "#core/ingredient.ts";
import { sayMass } from "../shelf/amount.ts";
import type { LotFields } from "../shelf/lot-fields.ts";
import type { LotRow } from "../storage/lots.ts";
import { type FormSays, overtaking, packHint } from "./maker-shelf-form.ts";
import { hrefOf, lotHref } from "./maker-shelf.ts";
import { type Said, fieldModels } from "./maker-shelf-words.ts";

/** @param lot the stored one; nothing for a delivery that is being received under `id` */
export function lotFormPage(
  said: Said,
  ingredient: Ingredient,
  { id, lot }: { readonly id: string; readonly lot?: LotRow },
  says: FormSays<LotFields>,
) {
  const { fields, revision, faults } = says;
  const { fattyAcids, sn2, triacylglycerols, solidFat } = fields;
  const headline = lot ? `Change lot ${lot.code}` : `Receive ${ingredient.name}`;
  return {
    title: headline,
    headline,
    back: lot ? `Lot ${lot.code}` : ingredient.name,
    backHref: lot ? lotHref(id) : hrefOf(ingredient.id),
    action: lot ? `${lotHref(id)}/edit` : `${hrefOf(ingredient.id)}/receive`,
    button: lot ? "Save" : "Receive it",
    id,
    revision,
    isNew: !lot,
    arrived: lot ? `${sayMass(lot.receivedMg, said.locale)} arrived.` : "",
    ...overtaking(says),
    fields: fieldModels(fields, faults),
    packHint: packHint(ingredient),
    costLabel: `Cost of the whole lot, in ${said.currency.code}`,
    certificateOpen: [fattyAcids, sn2, triacylglycerols, solidFat].some((text) => text !== ""),
  };
}

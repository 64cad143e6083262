/**
 * Who works in the shop: inviting, changing a role, removing and putting back. All of it is an owner's.
 */
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { Conflict } from "../storage/database.ts";
import type { PersonRow, Role } from "../storage/people.ts";
import { type Visit, issueSignInLink } from "./sign-in.ts";

/**
 * Add a person and make the link that lets them in. Sent twice with the same id it adds one person, and a new link.
 * @returns the link, to be shown once
 * @throws Refusal maker.person.unknown when the id is another shop's
 */
export async function invite(
  shop: Shop,
  { shopId }: Visit,
  person: { readonly id: string; readonly name: string; readonly role: Role },
): Promise<string> {
  try {
    await shop.people.add({ ...person, shopId, createdAt: shop.clock.seconds() });
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    await personHere(shop, shopId, person.id);
  }
  return await issueSignInLink(shop, shopId, person.id);
}

/** A new link for a person who has lost every way in; the links before are void. */
export async function inviteAgain(shop: Shop, { shopId }: Visit, id: string) {
  const person = await personHere(shop, shopId, id);
  return { person, link: await issueSignInLink(shop, shopId, id) };
}

/** @throws Refusal maker.owner.last or maker.person.unknown */
export async function changeRole(shop: Shop, visit: Visit, id: string, role: Role): Promise<void> {
  const { shopId, personId } = visit;
  await keepingAnOwner(shop, visit, id, () => shop.people.setRole(shopId, id, role, personId));
}

/** Remove a person; where they are signed in, that ends now. @throws Refusal as `changeRole` */
export async function removePerson(shop: Shop, visit: Visit, id: string): Promise<void> {
  const at = shop.clock.seconds();
  const { shopId, personId } = visit;
  await keepingAnOwner(shop, visit, id, () => shop.people.remove(shopId, id, personId, at));
}

/** Put a removed person back; one who is there already stays. */
export async function putPersonBack(shop: Shop, { shopId }: Visit, id: string): Promise<void> {
  try {
    await shop.people.putBack(shopId, id);
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    await personHere(shop, shopId, id);
  }
}

/** @throws Refusal maker.person.unknown */
async function personHere(shop: Shop, shopId: string, id: string): Promise<PersonRow> {
  const person = await shop.people.byId(shopId, id);
  if (person && person.removedAt === null) return person;
  throw new Refusal("maker.person.unknown", "There is no such person in this shop.");
}

async function keepingAnOwner(
  shop: Shop,
  { shopId }: Visit,
  id: string,
  change: () => Promise<void>,
): Promise<void> {
  try {
    await change();
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    await personHere(shop, shopId, id);
    throw new Refusal(
      "maker.owner.last",
      "Nothing was changed: the shop keeps at least one owner who can come in. Invite another owner first, " +
        "and let them add a passkey or print a recovery code.",
    );
  }
}

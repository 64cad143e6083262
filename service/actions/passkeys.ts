/**
 * Passkeys: adding one, and coming in by one.
 *
 * User verification is required, because the passkey is all there is: a tablet or key that lies on the bench must not
 * open the door to whoever picks it up. Attestation is not asked for: a shop has no reason to prefer one maker of
 * authenticators, and an answer that brings one all the same is refused.
 */
import type { AuthenticationResponseJSON, RegistrationResponseJSON } from "@simplewebauthn/server";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { Conflict } from "../storage/database.ts";
import type { Challenge } from "../storage/passkeys.ts";
import { toBase64url } from "../numbers.ts";
import { type Party, partyOf } from "./passkeys-party.ts";
import { type Visit, newSession } from "./sign-in.ts";

const CHALLENGE_LIFE_S = 5 * 60;

const library = () => import("./passkeys-library.ts");

/** What a browser needs to make a passkey for whoever is signed in. */
export async function askToAdd(shop: Shop, { shopId, personId, name }: Visit) {
  const { rpId } = partyOf(shop.url);
  const [{ generateRegistrationOptions }, owner, passkeys] = await Promise.all([
    library(),
    shop.shops.byId(shopId),
    shop.passkeys.ofPerson(personId),
  ]);
  const options = await generateRegistrationOptions({
    rpName: owner!.name,
    rpID: rpId,
    userName: name,
    userDisplayName: name,
    userID: new TextEncoder().encode(personId),
    timeout: CHALLENGE_LIFE_S * 1000,
    attestationType: "none",
    authenticatorSelection: { residentKey: "required", userVerification: "required" },
    excludeCredentials: passkeys
      .filter(({ removedAt }) => removedAt === null)
      .map(({ id, transports }) => ({ id, transports: JSON.parse(transports) as [] })),
  });
  await keep(shop, { challenge: options.challenge, purpose: "enrol", personId });
  return options;
}

/**
 * Add the passkey a browser has made.
 * @throws Refusal maker.passkey.refused
 */
export async function addPasskey(
  shop: Shop,
  { personId }: Visit,
  name: string,
  response: RegistrationResponseJSON,
): Promise<void> {
  const party = partyOf(shop.url);
  const challenge = challengeIn(response.response.clientDataJSON);
  await use(shop, { challenge, purpose: "enrol", personId });
  const { verifyRegistrationResponse } = await library();
  const checked = await verifying(party, () =>
    verifyRegistrationResponse({ response, ...expected(party, challenge) }),
  );
  const made = checked.registrationInfo;
  if (!made || made.fmt !== "none") throw refused("It did not prove itself as it should.");
  const { id, publicKey, counter, transports = [] } = made.credential;
  try {
    await shop.passkeys.add({
      ...{ id, personId, counter, name },
      publicKey: toBase64url(publicKey),
      transports: JSON.stringify(transports),
      createdAt: shop.clock.seconds(),
    });
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    throw refused("It has been added before; if it was removed, put it back.");
  }
}

/** What a browser needs to offer the passkeys it holds for this shop. */
export async function askToEnter(shop: Shop) {
  const { rpId } = partyOf(shop.url);
  const { generateAuthenticationOptions } = await library();
  const options = await generateAuthenticationOptions({
    rpID: rpId,
    userVerification: "required",
    timeout: CHALLENGE_LIFE_S * 1000,
  });
  await keep(shop, { challenge: options.challenge, purpose: "enter", personId: null });
  return options;
}

/**
 * Begin a session by a passkey.
 * @returns token for the session cookie
 * @throws Refusal maker.passkey.refused or maker.passkey.copied
 */
export async function enterByPasskey(
  shop: Shop,
  response: AuthenticationResponseJSON,
): Promise<string> {
  const party = partyOf(shop.url);
  const challenge = challengeIn(response.response.clientDataJSON);
  await use(shop, { challenge, purpose: "enter", personId: null });
  const found = await shop.passkeys.withPerson(response.id);
  if (!found) throw refused("The shop does not know it; it may have been removed.");
  const { passkey, person } = found;
  if (response.response.userHandle !== toBase64url(new TextEncoder().encode(person.id))) {
    throw refused("It belongs to somebody else.");
  }
  const { verifyAuthenticationResponse } = await library();
  const { verified, authenticationInfo } = await verifying(party, () =>
    verifyAuthenticationResponse({
      response,
      ...expected(party, challenge),
      // The counter is compared where it is written, so that of two answers at the same moment one fails.
      credential: { id: passkey.id, publicKey: bytesOf(passkey.publicKey), counter: 0 },
    }),
  );
  if (!verified) throw refused("Its signature does not fit.");
  const session = await newSession(shop, person);
  if (await shop.signIns.beginByPasskey(passkey.id, authenticationInfo.newCounter, session.row)) {
    return session.token;
  }
  shop.log({ passkey: "counter went backwards", shop: person.shopId });
  throw new Refusal(
    "maker.passkey.copied",
    "This passkey has counted fewer uses than the shop has seen, as a copy of it would. It was not let in. " +
      "Sign in another way, remove this passkey and add a new one.",
  );
}

async function keep(shop: Shop, challenge: Omit<Challenge, "expiresAt">): Promise<void> {
  const at = shop.clock.seconds();
  await shop.passkeys.keepChallenge({ ...challenge, expiresAt: at + CHALLENGE_LIFE_S }, at);
}

async function use(shop: Shop, challenge: Omit<Challenge, "expiresAt">): Promise<void> {
  if (await shop.passkeys.useChallenge(challenge, shop.clock.seconds())) return;
  throw refused("The question it answers was older than five minutes or is answered already.");
}

function expected({ origin, rpId }: Party, challenge: string) {
  return {
    expectedChallenge: challenge,
    expectedOrigin: origin,
    expectedRPID: rpId,
    requireUserVerification: true,
  };
}

/** The library throws a plain error at everything that does not fit. */
async function verifying<Checked>({ origin }: Party, check: () => Promise<Checked>) {
  try {
    return await check();
  } catch (cause) {
    throw refused(`It must be used at ${origin}, by whoever it belongs to.`, cause);
  }
}

/** The challenge an answer says it answers. */
function challengeIn(clientDataJSON: string): string {
  try {
    const text = new TextDecoder().decode(bytesOf(clientDataJSON));
    const { challenge } = JSON.parse(text) as { challenge?: unknown };
    if (typeof challenge === "string") return challenge;
  } catch {
    // Said below, as for an answer without a challenge.
  }
  throw refused("What it sent cannot be read.");
}

function bytesOf(base64url: string): Uint8Array<ArrayBuffer> {
  const text = atob(base64url.replaceAll("-", "+").replaceAll("_", "/"));
  return Uint8Array.from(text, (letter) => letter.charCodeAt(0));
}

function refused(why: string, cause?: unknown): Refusal {
  const detail = `The passkey was not taken. ${why} Nothing was changed; please try again.`;
  return new Refusal("maker.passkey.refused", detail, { cause });
}

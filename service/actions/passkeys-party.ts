/**
 * What passkeys are bound to: the address of the shop.
 */
import { Refusal } from "../problem.ts";

export interface Party {
  readonly origin: string;
  /** Relying party id: the host's name without a port. */
  readonly rpId: string;
}

/**
 * The origin and relying party of a shop.
 * @throws Refusal maker.passkey.impossible
 */
export function partyOf(url: string): Party {
  const why = whyNoPasskeys(url);
  if (why) throw new Refusal("maker.passkey.impossible", why);
  const { origin, hostname } = new URL(url);
  return { origin, rpId: hostname };
}

/**
 * Why browsers would not hold passkeys for this address; nothing when they would. They ask for https (or localhost) and
 * for a name: a relying party id is a domain (W3C Web Authentication, "relying party identifier").
 */
export function whyNoPasskeys(url: string): string | undefined {
  const { protocol, hostname } = new URL(url);
  if (/^[\d.]+$|^\[/.test(hostname)) {
    return `Passkeys need a name instead of the number ${hostname}: give the shop an address with a name.`;
  }
  const local = hostname === "localhost" || hostname.endsWith(".localhost");
  if (protocol === "https:" || local) return undefined;
  return `Passkeys need an address that begins with https; this shop’s begins with http://${hostname}.`;
}

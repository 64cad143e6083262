/**
 * A quote's token checked with the public keys alone: compact JWS (RFC 7515) with Ed25519 (RFC 8037).
 */
import type { QuoteSnapshot } from "#core/wire.ts";

/** The token is not what the shop handed out, or its time is over. */
export class QuoteRefused extends Error {
  readonly why: "altered" | "expired";

  constructor(why: "altered" | "expired") {
    super(
      why === "expired"
        ? "The quote has expired: ask for a new one before you charge."
        : "This is no quote of the shop's, or it was altered: charge nothing for it.",
    );
    this.name = "QuoteRefused";
    this.why = why;
  }
}

type FindKey = (kid: string) => Promise<JsonWebKey | undefined>;

/** Keys are asked for again this long after [ms]; the shop's Cache-Control says as much. */
const KEEP_MS = 3_600_000;
/** A token that names an unknown key asks anew, but not oftener than this: anybody can invent a name [ms] */
const AGAIN_MS = 30_000;

/** Finds a public key by its name, and keeps the set. */
export function keyFinder(fetchKeys: () => Promise<{ keys: JsonWebKey[] }>): FindKey {
  let kept: { readonly at: number; readonly keys: readonly JsonWebKey[] } | undefined;
  const named = (kid: string) => kept?.keys.find((key) => (key as { kid?: string }).kid === kid);
  return async (kid) => {
    const age = kept ? Date.now() - kept.at : Infinity;
    if (age > KEEP_MS || (!named(kid) && age > AGAIN_MS)) {
      kept = { at: Date.now(), keys: (await fetchKeys()).keys };
    }
    return named(kid);
  };
}

/** @throws QuoteRefused, or what fetching the keys throws */
export async function verifyToken(token: string, findKey: FindKey): Promise<QuoteSnapshot> {
  const parts = token.split(".");
  const [head, payload, signature] = parts;
  if (parts.length !== 3 || !head || !payload || !signature) throw new QuoteRefused("altered");
  const { alg, typ, kid } = readJson(head) as { alg?: unknown; typ?: unknown; kid?: unknown };
  // The token must not choose how it is checked.
  if (alg !== "EdDSA" || typ !== "softset-quote+json" || typeof kid !== "string") {
    throw new QuoteRefused("altered");
  }
  const jwk = await findKey(kid);
  if (jwk?.kty !== "OKP" || jwk.crv !== "Ed25519") throw new QuoteRefused("altered");
  const { x = "" } = jwk;
  const key = await crypto.subtle.importKey(
    "jwk",
    { kty: "OKP", crv: "Ed25519", x },
    { name: "Ed25519" },
    false,
    ["verify"],
  );
  const signed = new TextEncoder().encode(`${head}.${payload}`);
  const isOurs = await crypto.subtle.verify("Ed25519", key, bytesOf(signature), signed);
  if (!isOurs) throw new QuoteRefused("altered");
  const quote = readJson(payload) as QuoteSnapshot;
  if (quote.expiresAt * 1000 <= Date.now()) throw new QuoteRefused("expired");
  return quote;
}

function readJson(text: string): unknown {
  try {
    return JSON.parse(new TextDecoder().decode(bytesOf(text)));
  } catch {
    throw new QuoteRefused("altered");
  }
}

/** @throws QuoteRefused unless it is base64url as it is written, to the last bit */
function bytesOf(base64url: string): Uint8Array<ArrayBuffer> {
  const base64 = base64url.replaceAll("-", "+").replaceAll("_", "/");
  try {
    const text = atob(base64);
    // The last character can hold bits that say nothing: a token altered there is another token.
    if (btoa(text).replace(/=+$/, "") === base64 && !/[+/]/.test(base64url)) {
      return Uint8Array.from(text, (each) => each.charCodeAt(0));
    }
  } catch {
    // no base64 at all
  }
  throw new QuoteRefused("altered");
}

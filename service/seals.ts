/**
 * What the shop signs: quotes, so that nobody can alter one, order pages, so that only the customer opens
 * them, and blends that travel in a link, so that what comes back is what went out.
 *
 * Quotes are compact JWS with Ed25519 (RFC 7515, RFC 8037), so that a host shop can check them with the public
 * key alone. The token of an order page is an HMAC over the order's id, and a blend carries an HMAC of itself: neither
 * need be stored to be checked. What is signed begins with what it is, so that one never passes for the other.
 */
import type { QuoteSnapshot } from "#core/wire.ts";
import {
  CompactSign,
  type CryptoKey,
  type JWK,
  base64url,
  compactVerify,
  exportJWK,
  generateKeyPair,
  importJWK,
} from "jose";
import * as z from "zod";
import { isSameText, toBase64url } from "./numbers.ts";

const Keys = z.object({
  signing: z.looseObject({
    kty: z.literal("OKP"),
    crv: z.literal("Ed25519"),
    x: z.string(),
    d: z.string(),
    kid: z.string(),
  }),
  pages: z.string().min(43),
});

export interface Seals {
  sealQuote(quote: QuoteSnapshot): Promise<string>;
  /** @returns the bytes that were sealed; nothing when the token was altered or sealed elsewhere */
  openQuote(token: string): Promise<unknown>;
  orderToken(orderId: string): Promise<string>;
  /** Bytes with their seal behind them, as base64url (RFC 4648 section 5). */
  sealBlend(bytes: Uint8Array): Promise<string>;
  /** @returns the bytes that were sealed; nothing when a character was altered or they were sealed elsewhere */
  openBlend(code: string): Promise<Uint8Array | undefined>;
  /** Public keys as a JWK set. */
  publicKeys(): { readonly keys: readonly JWK[] };
}

const ALGORITHM = "EdDSA";
const QUOTE_TYPE = "softset-quote+json";
/** Half of SHA-256, the least that RFC 2104 section 5 lets a shortened HMAC have [bytes] */
const SEAL_BYTES = 16;

/** Make the secrets of a new shop, as text to keep. */
export async function makeKeys(): Promise<string> {
  const { privateKey } = await generateKeyPair(ALGORITHM, { crv: "Ed25519", extractable: true });
  const jwk = await exportJWK(privateKey);
  const kid = toBase64url(crypto.getRandomValues(new Uint8Array(6)));
  const pages = toBase64url(crypto.getRandomValues(new Uint8Array(32)));
  return JSON.stringify({ signing: { ...jwk, kid }, pages });
}

/**
 * Whether the signature is written the one way it can be: the last character of base64url holds bits that say nothing,
 * and a token altered there would still verify.
 */
function isCanonical(token: string): boolean {
  const signature = token.split(".")[2] ?? "";
  return base64url.encode(base64url.decode(signature)) === signature;
}

/**
 * Make the seals of a shop.
 * @param keys text from `makeKeys`
 * @throws when the text is not such a text
 */
export async function makeSeals(keys: string): Promise<Seals> {
  const { signing, pages } = Keys.parse(JSON.parse(keys));
  const { d: _secret, ...publicJwk } = signing;
  const privateKey = (await importJWK(signing, ALGORITHM)) as CryptoKey;
  const publicKey = (await importJWK(publicJwk, ALGORITHM)) as CryptoKey;
  const pageKey = await crypto.subtle.importKey(
    "raw",
    new TextEncoder().encode(pages),
    { name: "HMAC", hash: "SHA-256" },
    false,
    ["sign"],
  );
  const encode = (text: string) => new TextEncoder().encode(text);
  const macOf = async (kind: string, bytes: Uint8Array) => {
    const signed = new Uint8Array([...encode(`${kind}:`), ...bytes]);
    return new Uint8Array(await crypto.subtle.sign("HMAC", pageKey, signed)).slice(0, SEAL_BYTES);
  };
  return {
    sealQuote: (quote) =>
      new CompactSign(encode(JSON.stringify(quote)))
        .setProtectedHeader({ alg: ALGORITHM, typ: QUOTE_TYPE, kid: signing.kid })
        .sign(privateKey),
    openQuote: async (token) => {
      try {
        if (!isCanonical(token)) return undefined;
        const { payload, protectedHeader } = await compactVerify(token, publicKey, {
          algorithms: [ALGORITHM],
        });
        if (protectedHeader.typ !== QUOTE_TYPE) return undefined;
        return JSON.parse(new TextDecoder().decode(payload));
      } catch {
        return undefined;
      }
    },
    orderToken: async (orderId) => toBase64url(await macOf("order", encode(orderId))),
    sealBlend: async (bytes) =>
      toBase64url(new Uint8Array([...bytes, ...(await macOf("blend", bytes))])),
    openBlend: async (code) => {
      const sealed = bytesOf(code);
      if (!sealed) return undefined;
      const bytes = sealed.subarray(0, -SEAL_BYTES);
      // Written anew and compared as a whole: the last character of base64url has bits that say nothing.
      const whole = new Uint8Array([...bytes, ...(await macOf("blend", bytes))]);
      return isSameText(toBase64url(whole), code) ? bytes : undefined;
    },
    publicKeys: () => ({ keys: [{ ...publicJwk, alg: ALGORITHM, use: "sig" }] }),
  };
}

function bytesOf(code: string): Uint8Array | undefined {
  try {
    return base64url.decode(code);
  } catch {
    return undefined;
  }
}

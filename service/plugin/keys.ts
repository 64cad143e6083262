/**
 * Keys that host shops order with: made, renewed and revoked by an owner, and read from the Authorization header.
 */
import type { Context } from "hono";
import { hashToken } from "../numbers.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import type { ApiKeyRow } from "../storage/api-keys.ts";
import { Conflict } from "../storage/database.ts";

/** Says what a found secret opens, to people and to tools that look for leaked ones. */
const PREFIX = "softset_";

/** A new secret; only its hash is kept. */
async function newSecret({ numbers }: Pick<Shop, "numbers">) {
  const secret = `${PREFIX}${numbers.token()}`;
  return { secret, secretHash: await hashToken(secret) };
}

/**
 * Make a key.
 * @param key `id` drawn with the form, so that a form sent twice makes one key
 * @returns the secret, which is never shown again; nothing when the key was made already
 */
export async function makeApiKey(
  shop: Shop,
  key: Pick<ApiKeyRow, "id" | "shopId" | "name" | "madeBy">,
): Promise<string | undefined> {
  const { secret, secretHash } = await newSecret(shop);
  try {
    await shop.apiKeys.add({ ...key, secretHash, createdAt: shop.clock.seconds() });
    return secret;
  } catch (error) {
    if (error instanceof Conflict) return undefined;
    throw error;
  }
}

/** Give a key another secret; the one before stops at once. @returns the secret; nothing when the key is revoked */
export async function renewApiKey(
  shop: Shop,
  shopId: string,
  id: string,
): Promise<string | undefined> {
  const { secret, secretHash } = await newSecret(shop);
  try {
    await shop.apiKeys.renew(shopId, id, secretHash);
    return secret;
  } catch (error) {
    if (error instanceof Conflict) return undefined;
    throw error;
  }
}

/** Whether a request says that it comes from a host shop. */
export function isFromHost(c: Context): boolean {
  return c.req.header("authorization") !== undefined;
}

/**
 * The key a request came with.
 * @throws Refusal request.key.missing or request.key.unknown
 */
export async function keyOf(shop: Shop, c: Context): Promise<ApiKeyRow> {
  const header = c.req.header("authorization") ?? "";
  const secret = /^Bearer +([\w~+/.-]+=*)$/i.exec(header)?.[1];
  if (!secret) {
    c.header("www-authenticate", 'Bearer realm="softset"');
    const detail = "Send your key along: Authorization: Bearer softset_…";
    throw new Refusal("request.key.missing", detail);
  }
  const key = await shop.apiKeys.bySecretHash(await hashToken(secret));
  if (!key) {
    c.header("www-authenticate", 'Bearer realm="softset", error="invalid_token"');
    const detail = "This key opens nothing here. It may have been renewed or revoked.";
    throw new Refusal("request.key.unknown", detail);
  }
  await shop.apiKeys.noteUse(key, shop.clock.seconds());
  return key;
}

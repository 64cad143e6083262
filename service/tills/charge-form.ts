/**
 * The parts of a charge that are not money: texts, addresses, ids and times.
 */
import { type Charge, TillRefusal } from "./till.ts";

/**
 * Sizes the payment service takes. Idempotency key and metadata: its documents "Idempotent
 * requests" and "Metadata". Order id and name: from memory.
 */
const CHARGE_LIMITS = {
  idempotencyKeyCharacters: 255,
  metadataValueCharacters: 500,
  orderIdCharacters: 200,
  nameCharacters: 250,
  /** Display name of a way to send it: from memory. */
  carriageNameCharacters: 100,
  urlCharacters: 2048,
  lifetimeMs: 24 * 60 * 60 * 1000,
} as const;

/**
 * Refuse a charge whose form the payment service would refuse.
 *
 * A charge past its `expiresAt` is refused too: a session lives at most 24 hours and so does an
 * idempotency key, hence an expired charge is also one whose key may have been forgotten, and
 * sending it again could open a second session.
 * @throws TillRefusal `payment.charge.invalid`
 */
export function checkForm(charge: Charge, now: Date): void {
  const limits = CHARGE_LIMITS;
  checkId("order id", charge.orderId, limits.orderIdCharacters);
  checkId("reference", charge.reference, limits.metadataValueCharacters);
  checkId("idempotency key", charge.idempotencyKey, limits.idempotencyKeyCharacters);
  checkUrl("success address", charge.successUrl);
  checkUrl("cancel address", charge.cancelUrl);
  if (lineName(charge.description) === "") refuse("the description is empty");
  checkCarriage(charge.carriage);
  const leftMs = charge.expiresAt.getTime() - now.getTime();
  if (!(leftMs > 0)) refuse("the charge has expired: look for its session before making a new one");
  if (leftMs > limits.lifetimeMs) refuse("the charge expires more than 24 hours from now");
}

/** The service tells the ways apart by name alone, and so do we when it says which was chosen. */
function checkCarriage(carriage: Charge["carriage"]): void {
  if (!carriage) return;
  const names = carriage.ways.map(({ name }) => lineName(name));
  const isFit = (name: string) =>
    name !== "" && name.length <= CHARGE_LIMITS.carriageNameCharacters;
  if (!names.every(isFit)) refuse("a way to send it has no name, or too long a one");
  if (new Set(names).size < names.length) refuse("two ways to send it have the same name");
  const { countries } = carriage;
  if (countries.length === 0 || !countries.every((code) => /^[A-Z]{2}$/.test(code))) {
    refuse("the countries to send to must be two-letter codes, and at least one");
  }
  for (const { days } of carriage.ways) {
    if (days && !(days.least >= 0 && days.least <= days.most && days.most > 0)) {
      refuse("the days on the way must run from fewer to more");
    }
  }
}

/**
 * The description as the payment page can show it: one line, without control characters, marks that
 * turn the writing direction, or halves of characters; at most 250 characters.
 */
export function lineName(description: string): string {
  const clean = description
    .normalize("NFC")
    .replace(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, " ")
    .replace(/[\p{Cs}\p{Bidi_Control}]/gu, "")
    .replace(/\s+/g, " ")
    .trim();
  const characters = Array.from(clean);
  const most = CHARGE_LIMITS.nameCharacters;
  if (characters.length <= most) return clean;
  return `${characters
    .slice(0, most - 1)
    .join("")
    .trimEnd()}…`;
}

/**
 * Ids are ours: printable ASCII without spaces, so that they fit a header and mean the same
 * everywhere.
 */
function checkId(what: string, value: string, most: number): void {
  if (!/^[\x21-\x7e]+$/.test(value) || value.length > most) {
    refuse(`the ${what} must be 1 to ${most} printable ASCII characters`);
  }
}

function checkUrl(what: string, value: string): void {
  const scheme = URL.canParse(value) ? new URL(value).protocol : "";
  const fits = value.length <= CHARGE_LIMITS.urlCharacters;
  if (!fits || (scheme !== "https:" && scheme !== "http:")) {
    refuse(`the ${what} must be an http or https address of at most 2048 characters`);
  }
}

function refuse(message: string): never {
  throw new TillRefusal("payment.charge.invalid", message);
}

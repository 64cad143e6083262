/**
 * Refused requests as RFC 9457 problem details. The only file that knows which code has which status.
 */
import { type Finding, sayFinding } from "#core/finding.ts";
import type { Problem } from "#core/wire.ts";

const KINDS = {
  "request.body.malformed": [400, "The body is not valid JSON"],
  "request.body.invalid": [422, "The body does not have the right shape"],
  "request.body.too-large": [413, "The body is too large"],
  "request.form.malformed": [400, "The form could not be read"],
  "request.body.wrong-type": [415, "The body must be JSON"],
  "request.query.invalid": [422, "The query does not have the right shape"],
  "request.key.missing": [401, "A key is needed"],
  "request.key.unknown": [401, "This key is not known"],
  "request.idempotency-key.missing": [400, "An Idempotency-Key is needed"],
  "request.idempotency-key.invalid": [400, "The Idempotency-Key is not one"],
  "request.idempotency-key.reused": [422, "The Idempotency-Key came with another request"],
  "request.idempotency-key.running": [409, "The first such request is still at work"],
  "request.command.unknown": [404, "There is no such command"],
  "request.command.unusable": [400, "The command cannot be carried out"],
  "request.route.unknown": [404, "There is nothing here"],
  "request.host.unknown": [421, "There is no shop under this name"],
  "request.rate.exceeded": [429, "Too many requests in a short time"],
  "request.origin.foreign": [403, "This must be sent from our own pages"],
  "compose.product.unknown": [404, "There is no such product"],
  "compose.version.unknown": [404, "There is no such version"],
  "compose.draft.not-ready": [422, "This product cannot be published yet"],
  "compose.zone.unknown": [422, "No parcels go there"],
  "compose.choice.refused": [422, "This choice does not fit the product"],
  "compose.code.altered": [400, "This code was not made here or was altered"],
  "compose.code.outdated": [410, "This code can no longer be read"],
  "judge.blend.refused": [422, "This blend cannot be ordered"],
  "judge.test-jar.unknown": [404, "There is no such test jar"],
  "judge.blend.cannot-judge": [422, "This blend cannot be judged"],
  "price.blend.cannot-price": [422, "This blend cannot be priced"],
  "order.quote.unknown": [404, "There is no such quote"],
  "order.quote.altered": [400, "This quote was not issued here or was altered"],
  "order.quote.expired": [410, "This quote has expired"],
  "order.quote.outdated": [409, "The product has changed since this quote"],
  "order.quote.taken": [409, "This quote has an order already"],
  "order.erasure.too-early": [409, "The order still needs these particulars"],
  "order.unknown": [404, "There is no such order"],
  "order.refund.too-much": [422, "That much cannot be given back"],
  "order.state.conflict": [409, "The order is no longer in that state"],
  "make.batch.refused": [422, "No batch can be made of these orders"],
  "make.batch.unknown": [404, "There is no such batch"],
  "make.label.refused": [422, "These labels cannot be printed"],
  "make.label.unknown": [404, "There is no such print of labels"],
  "make.label.void": [409, "This print of labels is void"],
  "make.lot.unknown": [404, "There is no such lot"],
  "payment.signature.invalid": [400, "The signature does not fit"],
  "payment.charge.invalid": [422, "This amount cannot be charged"],
  "payment.amount.mismatch": [422, "What was paid is not what the quote says"],
  "payment.till.rejected": [502, "The payment service refused the request"],
  "payment.till.unauthorised": [503, "The shop cannot take payments at the moment"],
  "payment.till.unavailable": [503, "The payment service cannot be reached"],
  "shelf.ingredient.unknown": [404, "There is no such ingredient on the shelf"],
  "shelf.lot.unknown": [404, "There is no such lot on the shelf"],
  "shelf.file.unknown": [404, "This file is no longer here"],
  "shelf.form.broken": [400, "This form is not whole"],
  "maker.sign-in.needed": [401, "Please sign in"],
  "maker.role.not-enough": [403, "This is the owner’s"],
  "maker.link.spent": [410, "This sign-in link has been used or has expired"],
  "maker.passkey.refused": [403, "This passkey did not open the door"],
  "maker.passkey.copied": [403, "This passkey may have been copied"],
  "maker.passkey.impossible": [422, "Passkeys cannot be used at this address"],
  "maker.passkey.unknown": [404, "There is no such passkey"],
  "maker.way-in.last": [409, "This is your last way in"],
  "maker.person.unknown": [404, "There is no such person"],
  "maker.owner.last": [409, "The shop needs an owner"],
  "maker.key.unknown": [404, "There is no such key"],
  "maker.zone.unknown": [404, "There is no such zone"],
  "maker.message.unknown": [404, "There is no such message"],
  "maker.endpoint.unknown": [404, "There is no such address"],
  "maker.settings.outdated": [409, "Somebody saved meanwhile"],
  "operations.file.taken": [409, "There is a file already"],
  "operations.file.damaged": [422, "This file cannot be relied on"],
  "operations.file.unreadable": [404, "This file cannot be read"],
  "service.not-ready": [503, "This shop is not set up yet"],
  "service.not-open": [503, "This shop is closed at the moment"],
  "service.database.busy": [503, "The database is busy"],
  "service.database.full": [503, "There is no room left"],
  "service.database.read-only": [503, "Nothing can be stored"],
  "service.database.damaged": [503, "The database is damaged"],
  "service.failed": [500, "Something went wrong on our side"],
} as const;

export type ProblemCode = keyof typeof KINDS;

/** Status and title of a problem, for whoever describes the API. */
export function problemKind(code: ProblemCode): {
  readonly status: number;
  readonly title: string;
} {
  const [status, title] = KINDS[code];
  return { status, title };
}

export interface Particulars {
  readonly findings?: readonly Finding[];
  readonly errors?: Problem["errors"];
  /** Seconds after which trying again makes sense. */
  readonly retryAfterS?: number;
  /** Key of the sentence that customers read (`words/refusals.ts`), where the code alone says too little. */
  readonly told?: string;
  readonly cause?: unknown;
}

/** A request that is refused for a reason the sender can read. */
export class Refusal extends Error {
  readonly code: ProblemCode;
  readonly particulars: Particulars;

  /** @param detail one sentence: what happened, what is kept, what to do */
  constructor(code: ProblemCode, detail: string, particulars: Particulars = {}) {
    super(detail, { cause: particulars.cause });
    this.code = code;
    this.particulars = particulars;
  }

  get status() {
    return KINDS[this.code][0];
  }
}

/**
 * The problem document of a refusal.
 * @param instance path of the request and its id, to find it in the log
 */
export function problemOf(refusal: Refusal, instance: string): Problem {
  const [status, title] = KINDS[refusal.code];
  const { findings, errors } = refusal.particulars;
  return {
    type: `urn:softset:problem:${refusal.code}`,
    title,
    status,
    detail: refusal.message,
    code: refusal.code,
    instance,
    ...(findings
      ? { findings: findings.map((each) => ({ ...each, sentence: sayFinding(each) })) }
      : {}),
    ...(errors ? { errors } : {}),
  };
}

/**
 * The ways out: what the two entries (Node, workerd) each put together in their own manner.
 */

export interface Address {
  /** Empty when only the address is known. */
  readonly name: string;
  readonly email: string;
}

/** A mail, ready to go. */
export interface Letter {
  /** Same at every attempt, so that a mail sent twice is shown once. */
  readonly id: string;
  readonly from: Address;
  readonly to: Address;
  readonly subject: string;
  readonly text: string;
  readonly html: string;
}

export interface MailSender {
  readonly from: Address;
  /** Where mails to the maker go. */
  readonly maker: Address;
  /**
   * Hand a mail over.
   * @throws MailRefused when it will never be taken, any other error when trying again makes sense
   */
  send(letter: Letter, signal: AbortSignal): Promise<void>;
}

/** The receiving server will not take this mail, however often it is offered. */
export class MailRefused extends Error {}

/** What came back from a host shop; its body is never read. */
export interface Reply {
  readonly status: number;
  /** The Retry-After header, as it came. */
  readonly retryAfter: string | undefined;
}

export interface EventSender {
  /**
   * Post a body without following where the answer points.
   * @throws ForbiddenAddress when the name leads to a machine that must not be reached, any other error when there was
   *   no answer
   */
  post(
    url: string,
    headers: Readonly<Record<string, string>>,
    body: string,
    signal: AbortSignal,
  ): Promise<Reply>;
  /** Whether plain http to this very machine is allowed, for trying out. */
  readonly mayReachLoopback: boolean;
}

/** The name of a host shop leads to a machine inside a private network. */
export class ForbiddenAddress extends Error {}

export interface Senders {
  /** Nothing while mail is not set up: mails wait. */
  readonly mail: MailSender | undefined;
  readonly events: EventSender | undefined;
}

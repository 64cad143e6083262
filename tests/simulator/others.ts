/**
 * Those the shop tells of its orders, in memory: a host shop that checks every signature, and a mail provider. Both can
 * be told to be out of order for their next requests.
 */
import { Webhook } from "standardwebhooks";
import type { EventSender, Letter, MailSender, Reply } from "#service/messages/senders.ts";

/** What a host shop and a mail provider have got; the same again under one id has no second effect there. */
export class Others {
  readonly events = new Map<string, string>();
  readonly letters = new Map<string, Letter>();
  /** Everything that arrived, also twice. */
  arrived = 0;
  #outOfOrder = 0;
  readonly #webhook: Webhook;

  constructor(secret: string) {
    this.#webhook = new Webhook(secret);
  }

  /** Begin anew. */
  reset(): void {
    this.events.clear();
    this.letters.clear();
    this.arrived = 0;
    this.#outOfOrder = 0;
  }

  /** Nobody takes the next few. */
  breakDown(requests: number): void {
    this.#outOfOrder = requests;
  }

  #isOut(): boolean {
    if (this.#outOfOrder === 0) return false;
    this.#outOfOrder -= 1;
    return true;
  }

  readonly hostShop: EventSender = {
    mayReachLoopback: false,
    post: async (_url, headers, body): Promise<Reply> => {
      if (this.#isOut()) return { status: 503, retryAfter: undefined };
      const id = headers["webhook-id"]!;
      const signedAt = new Date(Number(headers["webhook-timestamp"]) * 1000);
      // `verify` of the library goes by the real clock, and this world has one of its own.
      if (headers["webhook-signature"] !== this.#webhook.sign(id, signedAt, body)) {
        throw new Error(`${id} is not signed with the secret of this host shop`);
      }
      const before = this.events.get(id);
      if (before !== undefined && before !== body) throw new Error(`${id} says two things`);
      this.events.set(id, body);
      this.arrived += 1;
      return { status: 200, retryAfter: undefined };
    },
  };

  readonly mail: MailSender = {
    from: { name: "", email: "post@quillfen.example" },
    maker: { name: "", email: "bench@quillfen.example" },
    send: async (letter) => {
      if (this.#isOut()) throw new Error("the mail provider is out of order");
      this.letters.set(letter.id, letter);
      this.arrived += 1;
    },
  };
}

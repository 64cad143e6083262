/**
 * Mail over HTTP, for the edge, where no mail server can be spoken to: one POST a mail, as JSON, with a bearer key.
 *
 * The body is `{ messageId, from, to, subject, text, html }`; `from` and `to` are `{ name, email }`. Whatever stands at
 * the address hands the mail on, under that Message-ID. A 2xx answer says that it has it; 400, 413 and 422 say that it
 * never will; after anything else the mail is offered again.
 */
import { type MailSender, MailRefused } from "./senders.ts";
import { messageIdOf } from "./mail-settings.ts";
import type { HttpMail, MailSettings } from "./mail-settings.ts";

const NEVER = new Set([400, 413, 422]);

export function createHttpMail({ from, maker }: MailSettings, { url, key }: HttpMail): MailSender {
  return {
    from,
    maker,
    send: async ({ id, ...letter }, signal) => {
      const answer = await fetch(url, {
        method: "POST",
        headers: { "content-type": "application/json", authorization: `Bearer ${key}` },
        body: JSON.stringify({ messageId: messageIdOf(id, from), ...letter }),
        redirect: "manual",
        signal,
      });
      await answer.body?.cancel();
      if (answer.ok) return;
      const fault = `The mail service answered ${answer.status}.`;
      throw NEVER.has(answer.status) ? new MailRefused(fault) : new Error(fault);
    },
  };
}

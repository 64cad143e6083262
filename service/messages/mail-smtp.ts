/**
 * Mail over SMTP, from a machine of one's own.
 */
import nodemailer from "nodemailer";
import { type MailSettings, type SmtpMail, messageIdOf } from "./mail-settings.ts";
import { type Address, type MailSender, MailRefused } from "./senders.ts";

/** Waits of one attempt [ms]; together they stay under what a sender is given (`deliver.ts`). */
const CONNECT_MOST_MS = 10_000;
const SILENCE_MOST_MS = 20_000;

export function createSmtpMail({ from, maker }: MailSettings, { url }: SmtpMail): MailSender {
  const { hostname, searchParams } = new URL(url);
  const isHere = ["localhost", "127.0.0.1", "[::1]"].includes(hostname);
  const settings = {
    url,
    connectionTimeout: CONNECT_MOST_MS,
    greetingTimeout: CONNECT_MOST_MS,
    socketTimeout: SILENCE_MOST_MS,
    // Names and addresses of customers never cross a network in the clear, unless the address itself says so.
    requireTLS: !isHere && searchParams.get("ignoreTLS") !== "true",
    disableFileAccess: true,
    disableUrlAccess: true,
  };
  return {
    from,
    maker,
    send: async ({ id, to, subject, text, html, from: sender }, signal) => {
      const transport = nodemailer.createTransport(settings);
      const hangUp = () => transport.close();
      signal.addEventListener("abort", hangUp, { once: true });
      try {
        await Promise.race([
          transport.sendMail({
            messageId: messageIdOf(id, from),
            from: mailbox(sender),
            to: mailbox(to),
            subject,
            text,
            html,
            headers: { "Auto-Submitted": "auto-generated" }, // RFC 3834: no holiday notes in return
          }),
          aborted(signal),
        ]);
      } catch (error) {
        throw isFinal(error) ? new MailRefused(saysOf(error), { cause: error }) : error;
      } finally {
        signal.removeEventListener("abort", hangUp);
        transport.close();
      }
    },
  };
}

function mailbox({ name, email }: Address) {
  return { name, address: email };
}

function aborted(signal: AbortSignal): Promise<never> {
  return new Promise((_, fail) => {
    const reason = () => fail(signal.reason as Error);
    if (signal.aborted) reason();
    else signal.addEventListener("abort", reason, { once: true });
  });
}

interface SmtpError {
  readonly code?: string;
  readonly responseCode?: number;
  readonly command?: string;
}

/** A 55x answer to the recipient or the mail itself is final (RFC 5321 section 4.2.1); one to our own login is not. */
function isFinal(error: unknown): boolean {
  const { responseCode = 0, command = "" } = error as SmtpError;
  return responseCode >= 550 && responseCode < 560 && /^(RCPT TO|DATA)/.test(command);
}

function saysOf(error: unknown): string {
  return `The mail server refused it for good (${(error as SmtpError).responseCode}).`;
}

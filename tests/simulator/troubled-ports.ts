/**
 * The ports of the shop with every call going through the simulated process: the till, and what goes out to others. The
 * database is in a file of its own.
 */
import type { EventSender, MailSender } from "#service/messages/senders.ts";
import { type Till, TillUnavailable } from "#service/tills/till.ts";
import type { Process } from "./process.ts";

const noAnswer = () => new TillUnavailable("no answer came");
const brokenOff = () => new Error("the connection broke off");

/** Reading a signed event asks nobody. */
export function troubledTill<Kind extends Till>(till: Kind, process: Process): Kind {
  return new Proxy(till, {
    get(target, name) {
      const value = Reflect.get(target, name) as unknown;
      if (typeof value !== "function" || name === "readEvent") return value;
      return (...values: unknown[]) =>
        process.call(
          () => (value as (...values: unknown[]) => Promise<unknown>).apply(target, values),
          noAnswer,
        );
    },
  });
}

export const troubledMail = (mail: MailSender, process: Process): MailSender => ({
  ...mail,
  send: (letter, signal) => process.call(() => mail.send(letter, signal), brokenOff),
});

export const troubledEvents = (events: EventSender, process: Process): EventSender => ({
  ...events,
  post: (...asked) => process.call(() => events.post(...asked), brokenOff),
});

/**
 * The ports of the shop with every call going through the simulated process: queries and lists of the database, the
 * till, and what goes out to others.
 */
import type { EventSender, MailSender } from "#service/messages/senders.ts";
import type { Database } from "#service/storage/database.ts";
import { type Till, TillUnavailable } from "#service/tills/till.ts";
import type { Process } from "./process.ts";

const diskFault = () => new Error("disk I/O error");
const noAnswer = () => new TillUnavailable("no answer came");
const brokenOff = () => new Error("the connection broke off");

/** Each query that is awaited, and each list, is one call. */
export function troubledDatabase(db: Database, process: Process): Database {
  const list: Database["atomic"] = (statements) =>
    process.call(() => db.atomic(statements), diskFault);
  return { q: watched(db.q, process), atomic: list, write: (statement) => list([statement]) };
}

/**
 * A query builder, or what one of its methods made: runs through the process once it is awaited. Inside a list or as
 * part of another query nothing is awaited, and the builder is used as it is.
 */
function watched<Builder extends object>(builder: Builder, process: Process): Builder {
  return new Proxy(builder, {
    get(target, name) {
      const value = Reflect.get(target, name) as unknown;
      if (typeof value !== "function") return value;
      if (name === "execute" || name === "then") {
        const { execute } = target as unknown as { execute(values?: object): Promise<unknown> };
        const run = (values?: object) =>
          process.call(() => execute.call(target, values), diskFault);
        if (name === "execute") return run;
        return (done: (answer: unknown) => unknown, failed: (error: unknown) => unknown) =>
          run().then(done, failed);
      }
      return (...values: unknown[]) => {
        const made = (value as (...values: unknown[]) => unknown).apply(target, values);
        // `_prepare` is how a list runs what is in it, and a list is one call.
        return name !== "_prepare" && isBuilder(made) ? watched(made, process) : made;
      };
    },
  });
}

/** Builders have more to be called on them, or can be awaited. */
function isBuilder(made: unknown): made is object {
  if (typeof made !== "object" || made === null || made instanceof Promise) return false;
  return ["from", "values", "set", "execute"].some((name) => name in made);
}

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

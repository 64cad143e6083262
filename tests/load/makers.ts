/**
 * What the maker does in a visit: looks through the pages, reads what was told, and makes what is paid: batch, work
 * order on screen and on paper, closing.
 */
import { fieldsOn } from "../helpers/form-fields.ts";
import type { Visitor } from "./ask.ts";
import { type Town, draw, locationOf } from "./shoppers.ts";

/** As many as are made in a day of a busy shop */
const ORDERS_OF_A_BATCH = 20;
/** Fewer wait for others of their base. */
const ORDERS_LEAST = 4;

const PAGES = [
  ...["/maker", "/maker/orders", "/maker/orders?state=paid", "/maker/orders?q=Linde"],
  ...["/maker/batches", "/maker/shelf", "/maker/products", "/maker/prices", "/maker/kitchen"],
];

export class Workshop {
  readonly #cookie: string;
  readonly #numbers: string[] = [];
  #isAtWork = false;

  constructor(cookie: string) {
    this.#cookie = cookie;
  }

  /** Sign in by the link that was printed at the start. */
  static async open(visitor: Visitor, link: string): Promise<Workshop> {
    const path = new URL(link).pathname;
    const answer = await visitor.ask({ kind: "sign-in", method: "POST", path });
    const cookie = answer.headers["set-cookie"]?.[0]?.split(";")[0];
    if (!cookie) throw new Error("the maker's link opened nothing");
    return new Workshop(cookie);
  }

  async lookThrough(visitor: Visitor, { chance, books }: Town): Promise<void> {
    await this.#page(visitor, "maker page", draw(chance, PAGES));
    if (books.orders.length > 0) {
      const { reference } = draw(chance, books.orders);
      await this.#page(visitor, "maker page", `/maker/orders/${reference}`);
    }
    if (chance() < 0.3) await this.#page(visitor, "messages page", "/maker/messages");
    if (this.#numbers.length > 0 && chance() < 0.3) {
      await this.#page(visitor, "batch page", `/maker/batches/${draw(chance, this.#numbers)}`);
    }
  }

  /** One batch after the other: there is one bench. */
  async make(visitor: Visitor, town: Town): Promise<void> {
    if (this.#isAtWork) return;
    this.#isAtWork = true;
    try {
      await this.#makeBatch(visitor, town);
    } finally {
      this.#isAtWork = false;
    }
  }

  /** Makes the orders of the base that most wait for. */
  async #makeBatch(visitor: Visitor, { books: { toMake } }: Town): Promise<void> {
    const [fullest] = [...toMake].sort(([, one], [, other]) => other.length - one.length);
    if (!fullest || fullest[1].length < ORDERS_LEAST) return;
    const [base, waiting] = fullest;
    const ids = waiting.slice(0, ORDERS_OF_A_BATCH);
    toMake.set(base, waiting.slice(ORDERS_OF_A_BATCH));
    const form = [...ids.map((id) => ["order", id] as const), ["short", "go"] as const];
    let path: string;
    try {
      const issued = await visitor.ask({
        ...{ kind: "batch", path: "/maker/batches", form },
        headers: { cookie: this.#cookie },
      });
      path = locationOf(issued);
    } catch (error) {
      // A list that failed changed nothing, so they wait on.
      toMake.set(base, [...ids, ...(toMake.get(base) ?? [])]);
      throw error;
    }
    this.#numbers.push(path.split("/").at(-1)!);
    await this.#page(visitor, "work order", `${path}/sheets`);
    await this.#page(visitor, "work order PDF", `${path}/sheets-a4.pdf`);
    const closing = await this.#page(visitor, "closing form", `${path}/close`);
    await visitor.ask({
      ...{ kind: "batch closed", path: `${path}/close`, form: fieldsOn(closing.text) },
      headers: { cookie: this.#cookie },
    });
    await this.#page(visitor, "batch record", `${path}/record`);
  }

  #page(visitor: Visitor, kind: string, path: string) {
    const headers = { cookie: this.#cookie };
    return visitor.ask({ kind, path, headers });
  }
}

/** What the simulators and the load hold a shop's books against, on books whose faults are known. */
import { describe, expect, it } from "vitest";
import { type Books, type MessageRow, type OrderRow, lostOf, untoldOf } from "./books.ts";

const order = (id: string, till_kind: string, paid_at: number | null): OrderRow => ({
  ...{ id, reference: id.toUpperCase(), state: paid_at ? "paid" : "placed" },
  ...{ till_kind, paid_at, batch_id: null },
});
const message = (order_id: string, kind: string, to_whom: string | null): MessageRow => ({
  ...{ id: [order_id, kind, to_whom].join("-"), order_id, kind, purpose: "order.paid" },
  ...{ to_whom, state: "sent" },
});

const BOOKS: Books = {
  orders: [order("a", "stripe", 1), order("b", "host", 1), order("c", "stripe", null)],
  messages: [
    ...[message("a", "mail", "maker"), message("a", "mail", "customer")],
    ...[message("a", "event", null), message("b", "mail", "maker"), message("b", "event", null)],
  ],
};
const ARRIVED = new Map(BOOKS.messages.map(({ id }) => [id, 1]));
const tell = (messages: readonly MessageRow[], arrived = ARRIVED) =>
  untoldOf({ ...BOOKS, messages }, arrived);

describe("the books", () => {
  it("are in order when every order and payment is there and told once", () => {
    expect(lostOf(BOOKS, { placed: ["A", "B", "C"], paid: ["A", "B"] })).toEqual([]);
    expect(tell(BOOKS.messages)).toEqual([]);
  });

  it("lack an order that was answered, and a payment", () => {
    expect(lostOf(BOOKS, { placed: ["A", "D"], paid: ["C", "D"] })).toEqual([
      ...["order D is lost", "the payment of C is lost", "the payment of D is lost"],
    ]);
  });

  it("lack a message, or hold one twice or of an order nobody paid", () => {
    expect(tell(BOOKS.messages.slice(1))).toEqual([
      "A has 0 x mail order.paid maker and should have 1",
    ]);
    const more = [message("b", "mail", "customer"), message("c", "event", null)];
    const arrived = new Map([...ARRIVED, ...more.map(({ id }) => [id, 1] as const)]);
    expect(tell([...BOOKS.messages, ...more], arrived)).toEqual([
      "B has 1 x mail order.paid customer and should have 0",
      "C has 1 x event order.paid  and should have 0",
    ]);
  });

  it("hold a message that was not sent or has not arrived", () => {
    const [first, ...rest] = BOOKS.messages;
    const waiting = { ...first!, state: "waiting" };
    expect(tell([waiting, ...rest])).toEqual([
      "order.paid a-mail-maker is waiting and has arrived 1 x",
    ]);
    expect(tell(BOOKS.messages, new Map([...ARRIVED].slice(1)))).toEqual([
      "order.paid a-mail-maker is sent and has arrived 0 x",
    ]);
  });
});

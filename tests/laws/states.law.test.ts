/** Laws of an order's states: over every state, every move and every amount. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  ORDER_STATES,
  type OrderState,
  mayMove,
  stateAfterPayment,
  statesBefore,
} from "#core/order/states.ts";

/** An order in some state, and a payment that comes to it. */
interface Happening {
  readonly state: OrderState;
  readonly totalMinor: number;
  readonly currency: string;
  readonly paidMinor: number;
  readonly paidIn: string;
  readonly exact: boolean;
}

const states = fc.constantFrom(...ORDER_STATES);
const amounts = fc.integer({ min: 0, max: 99_999_999 });
const currencies = fc.constantFrom("GBP", "EUR", "JPY");

describe("moves between states", () => {
  it("are told the same forwards and backwards", () => {
    for (const from of ORDER_STATES) {
      for (const to of ORDER_STATES) {
        expect(statesBefore(to).includes(from)).toBe(mayMove(from, to));
      }
    }
  });

  it("never stand still", () => {
    for (const state of ORDER_STATES) expect(mayMove(state, state)).toBe(false);
  });

  it("never make an order that was not paid or looked at: in making comes from paid alone", () => {
    expect(statesBefore("in-making")).toEqual(["paid"]);
  });

  it("give an order in making back to the paid ones, and one made never", () => {
    expect(mayMove("in-making", "paid")).toBe(true);
    expect(ORDER_STATES.filter((to) => mayMove("made", to))).toEqual(["sent"]);
  });

  it("reach every state from placed, and end nowhere but in sent", () => {
    const reached = new Set<OrderState>(["placed"]);
    for (const state of reached) {
      ORDER_STATES.filter((to) => mayMove(state, to)).forEach((to) => reached.add(to));
    }
    expect([...reached].sort()).toEqual([...ORDER_STATES].sort());
    const ends = ORDER_STATES.filter((from) => !ORDER_STATES.some((to) => mayMove(from, to)));
    expect(ends).toEqual(["sent"]);
  });
});

describe("a payment", () => {
  const events = fc.record({
    state: states,
    totalMinor: amounts,
    currency: currencies,
    paidMinor: amounts,
    paidIn: currencies,
    exact: fc.boolean(),
  });
  const RUNS = { numRuns: 1_000 };

  function after({ state, totalMinor, currency, paidMinor, paidIn, exact }: Happening) {
    const takings = exact
      ? { amountSubtotalMinor: totalMinor, amountTotalMinor: totalMinor, currency }
      : { amountSubtotalMinor: paidMinor, amountTotalMinor: paidMinor, currency: paidIn };
    const fits = takings.amountSubtotalMinor === totalMinor && takings.currency === currency;
    const owed = { state, isPaid: false, totalMinor, currency };
    const next = stateAfterPayment(owed, { ...takings, carriageMinor: 0, carriageName: null });
    return { next, fits };
  }

  it("only ever makes a move that is allowed", () => {
    fc.assert(
      fc.property(events, (event) => {
        const { next } = after(event);
        if (next) expect(mayMove(event.state, next)).toBe(true);
      }),
      RUNS,
    );
  });

  it("pays an order only with its very amount in its very currency", () => {
    fc.assert(
      fc.property(events, (event) => {
        const { next, fits } = after(event);
        if (next === "paid") expect(fits).toBe(true);
        if (fits && event.state === "placed") expect(next).toBe("paid");
      }),
      RUNS,
    );
  });

  it("is never lost: what comes to an order not yet paid leads to paid or held", () => {
    fc.assert(
      fc.property(events, (event) => {
        const waiting = ["placed", "expired", "cancelled"].includes(event.state);
        expect(after(event).next === undefined).toBe(!waiting);
      }),
      RUNS,
    );
  });

  it("counts once: the same payment again changes nothing", () => {
    fc.assert(
      fc.property(events, (event) => {
        const { next } = after(event);
        if (next) expect(after({ ...event, state: next }).next).toBeUndefined();
      }),
      RUNS,
    );
  });
});

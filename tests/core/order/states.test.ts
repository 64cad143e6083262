import { describe, expect, it } from "vitest";
import {
  ORDER_STATES,
  mayMove,
  refundableMinor,
  stateAfterPayment,
  statesBefore,
} from "#core/order/states.ts";

const order = (state: (typeof ORDER_STATES)[number]) => ({
  state,
  isPaid: false,
  totalMinor: 1_850,
  currency: "GBP",
});
const takings = {
  amountSubtotalMinor: 1_850,
  amountTotalMinor: 1_850,
  carriageMinor: 0,
  carriageName: null,
  currency: "GBP",
};
const carriage = {
  ways: [
    { name: "Post", minor: 395 },
    { name: "Fetch it", minor: 0 },
  ],
  countries: ["GB"],
};

describe("an order's way", () => {
  it("runs from placed over paid, in making and made to sent", () => {
    expect(mayMove("placed", "paid")).toBe(true);
    expect(mayMove("paid", "in-making")).toBe(true);
    expect(mayMove("in-making", "made")).toBe(true);
    expect(mayMove("made", "sent")).toBe(true);
  });

  it("never skips a step or runs back", () => {
    expect(mayMove("placed", "in-making")).toBe(false);
    expect(mayMove("paid", "made")).toBe(false);
    expect(mayMove("sent", "made")).toBe(false);
    expect(mayMove("made", "cancelled")).toBe(false);
  });

  it("lets the maker hold what is in making, and cancel what is held", () => {
    expect(mayMove("in-making", "held")).toBe(true);
    expect(mayMove("held", "cancelled")).toBe(true);
  });

  it("names the states that paid may follow", () => {
    expect(statesBefore("paid")).toEqual(["placed", "held", "in-making", "expired"]);
  });
});

describe("a payment", () => {
  it.each(["placed", "expired"] as const)("of the right amount makes a %s order paid", (state) => {
    expect(stateAfterPayment(order(state), takings)).toBe("paid");
  });

  it.each([1_849, 1_851, 0])("of %d instead of 1850 is held for the maker", (amount) => {
    const off = { ...takings, amountSubtotalMinor: amount, amountTotalMinor: amount };
    expect(stateAfterPayment(order("placed"), off)).toBe("held");
    expect(stateAfterPayment(order("expired"), off)).toBe("held");
  });

  it("with something added to it by the till is held: tax is in the total already", () => {
    const taxedTwice = { ...takings, amountTotalMinor: 2_220 };
    expect(stateAfterPayment(order("placed"), taxedTwice)).toBe("held");
  });

  it("of the right amount for other goods is held: what is missing was made up by something else", () => {
    const less = { ...takings, amountSubtotalMinor: 1_800 };
    expect(stateAfterPayment(order("placed"), less)).toBe("held");
  });

  it("in another currency is held for the maker", () => {
    expect(stateAfterPayment(order("placed"), { ...takings, currency: "EUR" })).toBe("held");
  });

  it("for a cancelled order is held, however exact", () => {
    expect(stateAfterPayment(order("cancelled"), takings)).toBe("held");
  });

  it("for an order that was paid and then cancelled is news of what is known", () => {
    const known = { ...order("cancelled"), isPaid: true };
    expect(stateAfterPayment(known, takings)).toBeUndefined();
  });

  it.each([
    ["Post", 395, 2_245, "paid"],
    ["Fetch it", 0, 1_850, "paid"],
    ["Post", 0, 1_850, "held"],
    ["Post", 395, 1_850, "held"],
    ["Courier", 395, 2_245, "held"],
    [null, 0, 1_850, "held"],
  ])("with carriage by %s at %d and %d in all makes it %s", (name, minor, total, state) => {
    const sent = { carriageName: name, carriageMinor: minor, amountTotalMinor: total };
    const next = stateAfterPayment({ ...order("placed"), carriage }, { ...takings, ...sent });
    expect(next).toBe(state);
  });

  it("with carriage where none was offered is held", () => {
    const sent = { carriageName: "Post", carriageMinor: 395, amountTotalMinor: 2_245 };
    expect(stateAfterPayment(order("placed"), { ...takings, ...sent })).toBe("held");
  });

  it.each(["paid", "held", "in-making", "made", "sent"] as const)(
    "changes nothing in an order that is %s",
    (state) => {
      expect(stateAfterPayment(order(state), takings)).toBeUndefined();
    },
  );
});

describe("what can still be given back", () => {
  it.each([
    [2_245, 0, 0, 2_245],
    [2_245, 245, 1_000, 1_000],
    [2_245, 2_245, 0, 0],
    [2_245, 2_000, 245, 0],
    [2_245, 3_000, 0, 0],
    [null, 0, 0, 0],
  ])(
    "of %s taken, %d back and %d asked for is %d",
    (capturedMinor, refundedMinor, askedMinor, left) => {
      expect(refundableMinor({ capturedMinor, refundedMinor, askedMinor })).toBe(left);
    },
  );
});

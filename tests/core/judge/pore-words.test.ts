import { describe, expect, it } from "vitest";
import { PORE_WORDS } from "#core/judge/pore-words.ts";

describe("the words beside a pore rating", () => {
  const all = PORE_WORDS.join(" ");

  it("say what the test was: single ingredients, rabbit ears, 0 to 5", () => {
    expect(all).toMatch(/0 to 5/);
    expect(all).toMatch(/single ingredient/);
    expect(all).toMatch(/rabbit ears/);
  });

  it("say what it was not: a finished jar, people, a rule for mixtures", () => {
    expect(all).toMatch(/not on this blend/);
    expect(all).toMatch(/not on people/);
    expect(all).toMatch(/[Nn]obody has published a rule for mixtures/);
    expect(all).toMatch(/Unrated .* does not mean 0/);
  });

  it("claim nothing a jar cannot keep", () => {
    expect(all).not.toMatch(/non-comedogenic|hypoallergenic|safe|guarantee/i);
  });
});

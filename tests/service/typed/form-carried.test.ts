/**
 * What a form carries along unseen: taken as our own pages write it, and not at all otherwise.
 */
import { expect, it } from "vitest";
import { isDrawnId, wholeIn } from "#service/typed/form-carried.ts";

it("knows an id as our own pages draw it", () => {
  expect(isDrawnId(crypto.randomUUID())).toBe(true);
  const hyphens = "-".repeat(36);
  const odd = [
    "",
    hyphens,
    `${crypto.randomUUID()}\n`,
    crypto.randomUUID().toUpperCase(),
    "0".repeat(36),
  ];
  expect(odd.filter(isDrawnId)).toEqual([]);
});

it("reads a whole number, and makes nothing of what is none, so that no row ever stands at it", () => {
  const form = new FormData();
  const typed = {
    none: "",
    point: "1.0",
    sign: "-1",
    more: "1e3",
    words: "one",
    long: "9".repeat(16),
  };
  for (const [name, text] of Object.entries(typed)) form.set(name, text);
  form.set("revision", "12");
  form.set("first", "0");
  expect([wholeIn(form, "revision"), wholeIn(form, "first")]).toEqual([12, 0]);
  for (const name of [...Object.keys(typed), "absent"]) expect(wholeIn(form, name)).toBeNaN();
});

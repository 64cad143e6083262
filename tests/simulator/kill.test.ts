/** The real server killed at a few moments; `kill.ts` does the same for hundreds. */
import { expect, it } from "vitest";
import { killAgainAndAgain } from "./kills.ts";
import { chanceFrom } from "#core/order/room/sequence.ts";

const MOMENTS = 3;

it("loses no order, no payment and no message when it is killed at any moment", async () => {
  const seed = Date.now() % 100_000;
  const figures = await killAgainAndAgain(MOMENTS, chanceFrom(seed));
  expect(figures.faults, `seed ${seed}`).toEqual([]);
  expect(figures.paid).toBeGreaterThan(0);
  expect(figures.messages).toBeGreaterThan(figures.paid);
}, 120_000);

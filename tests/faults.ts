/**
 * What can go wrong with money, messages, data and doors: each fault by its number, and the tests that show what the
 * shop makes of it. `faults.test.ts` holds the table against the tests.
 */
import { ASKING_THE_TILL } from "./faults/asking-the-till.ts";
import { ATTACKS } from "./faults/attacks.ts";
import type { Fault } from "./faults/fault.ts";
import { NEWS_OF_THE_TILL } from "./faults/news-of-the-till.ts";
import { TELLING_OTHERS } from "./faults/telling-others.ts";
import { THE_DATABASE } from "./faults/the-database.ts";
import { WHAT_COMES_IN } from "./faults/what-comes-in.ts";

export const FAULTS: readonly Fault[] = [
  ...ASKING_THE_TILL,
  ...NEWS_OF_THE_TILL,
  ...THE_DATABASE,
  ...WHAT_COMES_IN,
  ...ATTACKS,
  ...TELLING_OTHERS,
];

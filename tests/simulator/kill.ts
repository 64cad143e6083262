/**
 * The server killed at 200 moments, or as many as are asked for: node --import tsx tests/simulator/kill.ts 200 [seed]
 */
import { killAgainAndAgain } from "./kills.ts";
import { chanceFrom } from "#core/order/room/sequence.ts";

const [moments = 200, seed = Date.now() % 100_000] = process.argv.slice(2).map(Number);
console.log(`seed ${seed}`);
const tell = (over: number) => {
  if (over % 10 === 0) console.log(`${over} moments`);
};
const figures = await killAgainAndAgain(moments, chanceFrom(seed), tell);
console.log(JSON.stringify({ ...figures, faults: figures.faults.slice(0, 20) }, undefined, 2));
process.exitCode = figures.faults.length > 0 ? 1 : 0;

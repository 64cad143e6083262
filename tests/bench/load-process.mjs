/**
 * The load, in a process of its own: making requests then takes no turns of whoever answers them. It shares the
 * machine's processors with them all the same, so on two of them a server never has both.
 *
 * Told one job by its parent, it answers with what came of it and ends. Times are in milliseconds.
 */
import autocannon from "autocannon";
import { Agent, request } from "node:http";
import { performance } from "node:perf_hooks";

process.once("message", (job) => {
  const work = job.kind === "crowd" ? crowd(job) : arrivals(job);
  work.then((told) => process.send(told, () => process.disconnect()));
});

/**
 * As many at once as there are connections, each asking again as soon as it is answered.
 * @param job `seconds` long with one body for all; or with a body for each request, until those are used up
 */
async function crowd({ url, method, headers, bodies, connections, seconds, warmUpSeconds }) {
  if (warmUpSeconds > 0) {
    const [body] = bodies;
    await autocannon({ url, method, headers, body, connections, duration: warmUpSeconds });
  }
  const times = [];
  let bad = 0;
  let endedAt = 0;
  const startedAt = performance.now();
  const running = autocannon({ url, connections, ...asked({ method, headers, bodies }, seconds) });
  running.on("response", (_client, status, _bytes, ms) => {
    times.push(ms);
    endedAt = performance.now();
    if (status < 200 || status > 299) bad += 1;
  });
  const { errors } = await running;
  return { times, seconds: (endedAt - startedAt) / 1000, bad: bad + errors };

  function asked(what, most) {
    if (bodies.length === 1) return { ...what, body: bodies[0], duration: most };
    let next = 0;
    const setupRequest = (one) => ({ ...one, body: bodies[next++] });
    return { requests: [{ method, headers, setupRequest }], amount: bodies.length };
  }
}

/**
 * Each request at a moment of its own, whether or not earlier ones were answered; its time counts from the moment it
 * was due. autocannon sends a second's share in one burst, and no network brings news like that.
 */
async function arrivals({ url, method, requests, atMs }) {
  const agent = new Agent({ keepAlive: true, maxSockets: 256 });
  const startedAt = performance.now() + LEAD_MS;
  const answers = await Promise.all(
    requests.map(async ({ headers, body }, at) => {
      const due = startedAt + atMs[at];
      await new Promise((resolve) => setTimeout(resolve, due - performance.now()));
      const status = await answered(url, { method, headers, agent }, body);
      return { status, ms: performance.now() - due };
    }),
  );
  agent.destroy();
  return {
    times: answers.map(({ ms }) => ms),
    seconds: (performance.now() - startedAt) / 1000,
    bad: answers.filter(({ status }) => status < 200 || status > 299).length,
  };
}

/** Time to set all the clocks before the first one rings. */
const LEAD_MS = 300;

/** @returns status of a whole answer; 0 when there was none */
function answered(url, options, body) {
  return new Promise((resolve) => {
    const asking = request(url, options, (answer) => {
      answer.resume().on("end", () => resolve(answer.statusCode));
    });
    asking.on("error", () => resolve(0)).end(body);
  });
}

/**
 * Requests sent to a shop of hostile names, and what is wrong with an answer: a failure of the shop, too much work, a
 * refusal in the wrong form, a name that got out of its place, or a page without its policy.
 */
import { type GuardedShop, type Role, openGuardedShop } from "../security/guarded-shop.ts";
import { unescapedIn } from "../security/hostile-names.ts";
import { SEED, TELLS } from "./runs.ts";

/** Work of the processor, so that a busy machine is no complaint [ms] */
const WORK_MOST_MS = 1000;
const SHOWN_MOST = 20;

export interface Sent {
  readonly role: Role;
  readonly method: string;
  readonly path: string;
  readonly accept: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string | FormData | URLSearchParams;
}

export type TriedShop = Awaited<ReturnType<typeof openTriedShop>>;

export async function openTriedShop() {
  const shop = await openGuardedShop();
  return { shop, ...complaintsOf(shop), close: shop.close };
}

export function complaintsOf(shop: GuardedShop) {
  const began = process.cpuUsage();
  const told = new Map<string, number>();

  async function complaint({ role, method, path, ...asked }: Sent): Promise<string | undefined> {
    const before = process.cpuUsage();
    const answer = await shop.ask(role, method, path, asked);
    const text = await answer.text();
    const { user, system } = process.cpuUsage(before);
    const workMs = (user + system) / 1000;
    const type = (answer.headers.get("content-type") ?? "").split(";")[0]!;
    const isProblem = type === "application/problem+json";
    const code = isProblem ? (JSON.parse(text) as { code: string }).code : "";
    const kind = `${answer.status} ${code}`;
    told.set(kind, (told.get(kind) ?? 0) + 1);
    // The till's own word on a session that is over; the shop is whole.
    if (answer.status >= 500 && code !== "payment.till.rejected") {
      const [last] = shop.test.logged.slice(-1);
      return `${kind}: ${String(last?.["cause"]).slice(0, 400)}`;
    }
    if (workMs > WORK_MOST_MS) return `took ${Math.round(workMs)} ms of work`;
    const policy = answer.headers.get("content-security-policy") ?? "";
    if (!policy.includes("frame-ancestors 'none'")) return "without a policy for what it may run";
    const isPage = type === "text/html";
    if (answer.status >= 400 && !isPage && !isProblem) return `${answer.status} as ${type}`;
    const [loose] = isPage ? unescapedIn(text) : [];
    return loose && `unescaped: ${loose}`;
  }

  return {
    complaint,
    /** Send all of them. @returns what is wrong, with the request it was wrong with */
    tryAll: async (requests: Iterable<Sent> | AsyncIterable<Sent>): Promise<string[]> => {
      const odd: string[] = [];
      for await (const sent of requests) {
        const wrong = await complaint(sent).catch((error: unknown) => `threw ${String(error)}`);
        if (wrong && odd.length < SHOWN_MOST) odd.push(`${wrong} <- ${show(sent)}`);
      }
      return odd;
    },
    /** Say what a great run met. */
    tell: (): void => {
      if (!TELLS) return;
      const kinds = [...told].sort(([, one], [, other]) => other - one);
      const { user, system } = process.cpuUsage(began);
      const workS = Math.round((user + system) / 1e5) / 10;
      const mib = Math.round(process.memoryUsage().rss / 2 ** 20);
      const met = kinds.map(([kind, n]) => `${n} ${kind}`).join(", ");
      console.log(`seed ${SEED}, ${workS} s of work, ${mib} MiB: ${met}`);
    },
  };
}

function show({ body, ...sent }: Sent): string {
  const said = body instanceof FormData ? JSON.stringify([...body]) : String(body);
  return JSON.stringify({ ...sent, body: said.slice(0, 2000) });
}

/**
 * What a customer and a maker do at a running service, over HTTP, before something is measured.
 */
import type { OrderAnswer, QuoteAnswer } from "#core/wire.ts";
import { aQuoteRequest } from "../helpers/shop.ts";
import type { Service } from "./processes.ts";

/** Requests under way at once. */
export const TOGETHER = 32;
const JSON_KIND = { "content-type": "application/json" };

/** Soft shea as the demo shop starts it, one jar of 120 g. */
export const ONE_JAR = aQuoteRequest({ quantity: 1 });

/** The same work for many, some at once; answers in the order of what they were asked for. */
export async function forEach<Item, Answer>(
  items: readonly Item[],
  work: (item: Item) => Promise<Answer>,
): Promise<Answer[]> {
  const answers: Answer[] = [];
  let next = 0;
  const worker = async () => {
    while (next < items.length) {
      const at = next++;
      answers[at] = await work(items[at]!);
    }
  };
  await Promise.all(Array.from({ length: TOGETHER }, worker));
  return answers;
}

/** Quotes of one jar each. @returns their tokens */
export async function quoted({ url }: Service, count: number): Promise<string[]> {
  return await forEach(Array.from({ length: count }), async () => {
    const { token } = await send<QuoteAnswer>(`${url}/v1/quotes`, ONE_JAR);
    return token;
  });
}

/** Orders on quotes of their own. */
export async function placed(service: Service, count: number): Promise<OrderAnswer[]> {
  const tokens = await quoted(service, count);
  return await forEach(tokens, (quote) => send<OrderAnswer>(`${service.url}/v1/orders`, { quote }));
}

async function send<Answer>(url: string, body: unknown): Promise<Answer> {
  const init = { method: "POST", headers: JSON_KIND, body: JSON.stringify(body) };
  const answer = await fetch(url, init);
  if (!answer.ok) throw new Error(`${url} answers ${answer.status}: ${await answer.text()}`);
  return (await answer.json()) as Answer;
}

/** Send a form of one of the shop's own pages. @returns where it leads */
async function press(
  url: string,
  fields: Readonly<Record<string, string>> = {},
  cookie = "",
): Promise<Response> {
  const answer = await fetch(url, {
    method: "POST",
    redirect: "manual",
    headers: { "sec-fetch-site": "same-origin", cookie },
    body: new URLSearchParams(fields),
  });
  if (answer.status !== 303) throw new Error(`${url} answers ${answer.status}`);
  return answer;
}

/** @returns the cookie that the owner comes with */
export async function signIn({ makerLink }: Service): Promise<string> {
  const entered = await press(makerLink);
  return entered.headers.get("set-cookie")!.split(";")[0]!;
}

/** Pay at the practice till. @returns the order's id */
export async function paid({ payUrl, orderUrl }: OrderAnswer): Promise<string> {
  await press(`${payUrl!}/pay`, { name: "Wren Ashdown", email: "wren@customer.example" });
  return new URL(orderUrl).pathname.split("/")[2]!;
}

/** Put a paid order into a batch of its own. @returns path of the batch */
export async function batched(service: Service, order: string, cookie: string): Promise<string> {
  const issued = await press(`${service.url}/maker/batches`, { order, short: "go" }, cookie);
  return issued.headers.get("location")!;
}

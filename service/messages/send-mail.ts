/**
 * One mail to one reader. The address is read from the order now, so that nothing of it lies in the outbox and a
 * customer who was erased meanwhile gets no mail.
 */
import type { Shop } from "../ports.ts";
import { QuoteSnapshotShape } from "../shapes.ts";
import type { EndpointRow } from "../storage/event-endpoints.ts";
import type { MessageRow } from "../storage/messages.ts";
import type { OrderRow } from "../storage/orders.ts";
import type { ShopRow } from "../storage/shops.ts";
import type { Outcome } from "./deliver.ts";
import { layOut } from "./letter.ts";
import { isEmail } from "./mail-settings.ts";
import type { MailWords } from "./mail-ground.ts";
import { endpointOffWords, orderMailWords } from "./mail-words.ts";
import { type Address, MailRefused } from "./senders.ts";

/** Write a mail and hand it over. */
export async function sendMail(
  shop: Shop,
  message: MessageRow,
  endpoint: EndpointRow | undefined,
  signal: AbortSignal,
): Promise<Outcome> {
  const sender = shop.senders.mail!;
  const [row, order] = await Promise.all([
    shop.shops.byId(message.shopId),
    message.orderId === null ? undefined : shop.orders.byId(message.orderId),
  ]);
  const to = message.toWhom === "maker" ? sender.maker : customerOf(order);
  if (!to) return { kind: "drop", fault: "There is no address on this order any more." };
  if (!isEmail(to.email))
    return { kind: "never", fault: "The address is none that mail can go to." };
  const words = await wordsOf(shop, { message, order, endpoint, row: row! });
  const letter = layOut(message.id, row!, words, { from: sender.from, to });
  try {
    await sender.send(letter, signal);
    return { kind: "sent" };
  } catch (error) {
    if (error instanceof MailRefused) return { kind: "never", fault: error.message };
    if (signal.aborted) return { kind: "again", fault: "The mail server did not finish in time." };
    // The server's words may quote the address, so they go no further than this.
    return { kind: "again", fault: `The mail could not be handed over${codeOf(error)}.` };
  }
}

function customerOf(order: OrderRow | undefined): Address | undefined {
  if (!order?.customerEmail || order.erasedAt !== null) return undefined;
  return { name: "", email: order.customerEmail };
}

interface Ground {
  readonly message: MessageRow;
  readonly order: OrderRow | undefined;
  readonly endpoint: EndpointRow | undefined;
  readonly row: ShopRow;
}

async function wordsOf(shop: Shop, { message, order, endpoint, row }: Ground): Promise<MailWords> {
  if (!order) return endpointOffWords(message.purpose, endpoint!, `${shop.url}/maker/messages`);
  return orderMailWords(message.purpose, message.toWhom!, {
    shop: row,
    order,
    quote: QuoteSnapshotShape.parse(JSON.parse(order.snapshot)),
    orderUrl: `${shop.url}/orders/${order.id}/${await shop.seals.orderToken(order.id)}`,
    makerUrl: `${shop.url}/maker/orders/${order.reference}`,
  });
}

/** What a mail server says by number, and the names of broken connections. */
function codeOf(error: unknown): string {
  const { responseCode, code } = error as { responseCode?: number; code?: string };
  if (responseCode) return `: the mail server answered ${responseCode}`;
  if (code === "EAUTH") return ": the mail server did not take name and password";
  if (code === "ESOCKET" || code === "ECONNECTION" || code === "EDNS") {
    return ": the mail server cannot be reached";
  }
  if (code === "ETIMEDOUT") return ": the mail server did not answer";
  return error instanceof Error && /^The mail service answered \d+\.$/.test(error.message)
    ? `: ${error.message.slice(4, -1)}`
    : "";
}

/**
 * A mail laid out: the same words as text and as a page, from the shop to whoever it is for.
 */
import { renderTemplate } from "../documents/render.ts";
import type { ShopRow } from "../storage/shops.ts";
import { sayIn } from "../words/speak.ts";
import type { MailWords } from "./mail-ground.ts";
import type { Address, Letter } from "./senders.ts";

/** RFC 5322 section 2.1.1 asks for lines of at most 78 characters; a subject this long is read by nobody. */
const SUBJECT_MOST = 150;

/** @param id the message's own, which becomes the Message-ID */
export function layOut(
  id: string,
  shop: Pick<ShopRow, "name">,
  words: MailWords,
  { from, to }: { readonly from: Address; readonly to: Address },
): Letter {
  const subject = oneLine(words.subject);
  return {
    id,
    // The shop's own name, whatever the settings call the sender.
    from: from.name === "" ? { ...from, name: oneLine(shop.name) } : from,
    to,
    subject,
    text: textOf(shop.name, words),
    html: renderTemplate("messages/templates/mail", {
      ...words,
      subject,
      shopName: shop.name,
    }),
  };
}

/** A line break in a subject or a name would begin a header of its own. */
function oneLine(text: string): string {
  return text
    .replaceAll(/\p{Cc}+/gu, " ")
    .trim()
    .slice(0, SUBJECT_MOST);
}

function textOf(shopName: string, words: MailWords): string {
  const { locale, headline, paragraphs, facts, link, closing } = words;
  const blocks = [
    shopName,
    headline,
    ...paragraphs,
    facts.map((fact) => sayIn(locale, "layout.fact", fact)).join("\n"),
    link ? `${sayIn(locale, "mail.linkBelow", link)}\n${link.href}` : "",
    closing.join("\n\n"),
  ];
  return `${blocks.filter((block) => block !== "").join("\n\n")}\n`;
}

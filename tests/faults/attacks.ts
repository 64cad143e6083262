/** Somebody wants in. */
import { fault, first, inFile } from "./fault.ts";

const pages = inFile("security/pages.test.ts");
const rights = inFile("security/rights.test.ts");
const gate = inFile("security/gate.test.ts");
const signIn = inFile("service/routes/sign-in.test.ts");
const address = inFile("service/messages/endpoint-address.test.ts");
const events = inFile("service/messages/events.test.ts");
const health = inFile("service/operations/health.test.ts");
const composer = inFile("widget/composer.browser.test.ts");

export const ATTACKS = [
  first(
    102,
    "Markup stands in every name there is.",
    pages(
      "stand escaped on every page and in every picture",
      "stay text in the data that search engines read",
      "begin no header of a mail, and no tag in one",
    ),
    inFile("service/messages/mail.test.ts")("writes what a maker typed as text, in the page too"),
  ),
  fault(
    103,
    "The beginning of a formula stands in every name.",
    pages("begin no formula in a table"),
  ),
  first(
    104,
    "Ids and secrets of another shop are put into every address.",
    rights(
      "%s, who is shown nothing and changes nothing",
      "opens nothing with another's secret, whoever asks",
    ),
    inFile("service/plugin/host-orders.test.ts")(
      "opens its own orders alone: another's are as if they were not there",
    ),
  ),
  first(
    105,
    "Another site lets a maker's browser send something.",
    gate("is turned away by every route that changes something of somebody's"),
    signIn("is asked for and answered on our own pages only"),
  ),
  first(
    106,
    "A page calls from an origin that looks like one the shop named.",
    gate(
      "may call the API when the shop named them, and no others",
      "may read nothing that is somebody's, whoever they are and whether or not the shop named any",
      "are origins and nothing else",
    ),
    inFile("service/plugin/host-orders.test.ts")(
      "see nothing that a key opens, in answers, problems and preflights",
    ),
  ),
  fault(
    107,
    "The answer of a passkey is replayed, late, of another site, or another person's.",
    signIn(
      "lets nobody in: %s",
      "answers a question once, within five minutes, and not another's",
      "is refused with another's signature or another's name in it",
    ),
    gate(
      "is told of in the log, as is every way in that did not open, and never whose or by which secret",
    ),
  ),
  fault(
    108,
    "A session is chosen by a visitor, used after leaving, or by whoever found what was lost.",
    gate(
      "is another with each sign-in, and ends when one leaves",
      "is no session by the name a cookie may have without https, nor one that a visitor chose",
    ),
    signIn(
      "is shown once, is kept as a hash, works once, ends every other visit, and then asks for a new one",
      "ends every visit of the person and nobody else's",
    ),
  ),
  fault(109, "Ten thousand sign-ins are begun.", gate("is told how long to wait: %s at %s")),
  first(
    110,
    "An address for events leads into a network of the shop's own, or never stops answering.",
    address(
      "is refused: %s",
      "that leads to %s %s is not called",
      "is looked at again when something is sent, whatever was written down",
      "is called at the very address that was looked at",
    ),
    events(
      "is not followed where a redirect points",
      "does not read an answer that never ends",
      "to a receiver that never answers is cut off when its time is over",
    ),
  ),
  fault(
    111,
    "An event of ours is sent again to a host shop by somebody else.",
    inFile("host-shop/host-shop.test.ts")(
      "believes an event by its signature alone, old and new secret, and none that was touched",
    ),
    events("whose answer was lost comes again under the same id"),
  ),
  fault(
    112,
    "The link of a sheet or an order gets out by a referrer, a cache or a search engine.",
    pages(
      "that holds somebody's work or order is kept by no cache and found by no search engine",
      "as a page runs nothing from elsewhere, and stands in no frame",
    ),
  ),
  fault(
    113,
    "The page around the composer breaks or alters what it needs.",
    composer(
      "leaves the page's own order form, and names no price, on a page that has broken what it needs",
      "goes by keyboard alone from choosing a base to payment, under a strict content policy",
    ),
  ),
  fault(
    114,
    "A page of ours is put into a frame of somebody else's.",
    pages("as a page runs nothing from elsewhere, and stands in no frame"),
  ),
  fault(
    115,
    "A secret or an address gets into the log.",
    health(
      "writes a line for each request of a purchase, with nobody and no link in it",
      "loses the values of a query that failed, and keeps where it failed",
    ),
    inFile("simulator/every-call.test.ts")("comes right when %s, whichever it is"),
  ),
];

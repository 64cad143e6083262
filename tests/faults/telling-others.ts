/** The shop tells host shops, customers and makers; somebody asks to be forgotten; a new version comes. */
import { fault, first, inFile } from "./fault.ts";

const events = inFile("service/messages/events.test.ts");
const mail = inFile("service/messages/mail.test.ts");
const care = inFile("service/routes/order-care.test.ts");

export const TELLING_OTHERS = [
  first(
    116,
    "A host shop fails, hangs, has moved, is gone, is busy, or its answer is lost.",
    events(
      "refused with 500 comes again by the ten steps, under the same id and bytes, then fails",
      "to a receiver that never answers is cut off when its time is over",
      "is not followed where a redirect points",
      "answered 410 switches the address off, and the next change writes nothing for it",
      "answered 429 waits as long as it was asked to",
      "whose answer was lost comes again under the same id",
    ),
  ),
  fault(
    117,
    "A secret is renewed while events are being tried again.",
    events("signs beside the new one for a day, and no longer"),
  ),
  fault(
    118,
    "The mail server is down, or takes a mail and is silent.",
    mail(
      "taken without an answer comes a second time under the same Message-ID",
      "waits in the outbox when no server is there, with a sentence that says so",
      "refused for now comes again",
    ),
  ),
  first(
    119,
    "A customer with paid orders asks to be forgotten.",
    care(
      "takes out every trace of who it was, and keeps the books",
      "comes as a file, with the customer's own data and none of the maker's costs",
      "is refused while the order is %s, and nothing is lost",
    ),
    mail("is dropped when the order was erased meanwhile"),
  ),
  fault(
    120,
    "A new version is put in place while the former one still answers.",
    inFile("migrations/two-versions.test.ts")(
      "two versions at once lose nothing of what either writes, and the older does not start again",
    ),
  ),
];

/** The payment service tells of something, or of nothing. */
import { fault, first, inFile, notHere } from "./fault.ts";

const signed = inFile("service/tills/stripe-event.test.ts");
const stripe = inFile("service/tills/stripe.test.ts");
const choosing = inFile("service/tills/choose-till.test.ts");
const payment = inFile("service/actions/payment.test.ts");
const news = inFile("service/actions/payment-news.test.ts");
const reconcile = inFile("service/actions/reconcile.test.ts");
const moments = inFile("simulator/news.test.ts");
const schedules = inFile("simulator/schedules.test.ts");
const everyCall = inFile("simulator/every-call.test.ts");

export const NEWS_OF_THE_TILL = [
  first(
    24,
    "An event comes without a signature, or with nothing in it.",
    signed("is refused without a header or a body"),
    payment("with %s is refused and stored nowhere"),
  ),
  first(
    25,
    "An event was signed by another secret, or altered by a byte on the way.",
    signed("is refused with %s", "is refused when another secret signed it, or an empty one"),
    payment("with %s is refused and stored nowhere"),
  ),
  first(
    26,
    "An event was signed more than five minutes ago.",
    signed("signed %i s from now is let in: %s"),
    payment("with %s is refused and stored nowhere"),
  ),
  fault(
    27,
    "An event was signed in the future.",
    signed(
      "signed %i s from now is let in: %s",
      "is measured by the clock it is given, never by the machine's",
    ),
  ),
  notHere(
    28,
    "The tolerance for the age of a signature is set to nothing.",
    "it is no setting: five minutes stand in the code, and fault 26 shows that they are kept to",
  ),
  fault(
    29,
    "Of two signatures only the second fits, because a secret is being renewed.",
    signed(
      "is let in when only the second of two signatures is right",
      "is let in by either secret while one is being rolled",
    ),
  ),
  fault(
    30,
    "An event is signed by an older scheme alone.",
    signed("is refused with %s in the header"),
  ),
  fault(
    31,
    "A line break was copied along with a secret.",
    choosing("mends a line break that was copied along with the secrets"),
  ),
  first(32, "The same event comes again later.", payment("replayed later changes nothing")),
  first(
    33,
    "The same event comes several times at once.",
    payment("pays the order, once, though it is sent five times at once"),
  ),
  first(
    34,
    "Two events of one session come at once.",
    moments("takes one payment from two different events of one session at once"),
  ),
  first(
    35,
    "A checkout is complete and its money still on the way.",
    news("is on its way until it comes, and the customer is not sent to pay again"),
    payment("says nothing by itself: unpaid at the till stays unpaid here"),
  ),
  first(
    36,
    "The success of a slow payment is heard before its beginning.",
    news("whose success is heard before its completion is paid once"),
  ),
  fault(
    37,
    "A slow payment does not come.",
    news("that fails ends the order, and the blend may be ordered anew"),
    moments("tells the customer whose slow payment did not come"),
  ),
  first(
    38,
    "A refund is heard before the payment.",
    news("of a whole refund before the payment leaves nothing to be made"),
  ),
  fault(
    39,
    "Refunds come in parts, out of order, twice, or for more than was taken.",
    news(
      "in three parts, heard in any order and twice, are the till's own sum",
      "of more than was taken hold the order",
    ),
  ),
  fault(40, "A refund fails after all.", news("that fail come back, and the maker reads it")),
  fault(
    41,
    "A payment is contested, won, lost, or ends in a word nobody knows.",
    news(
      "is flagged on the order from its opening to %s, and the order stays where it is",
      "is said on the sheets that the order is made by",
      "heard of twice and out of order says what the till says now",
    ),
  ),
  fault(
    42,
    "An expiry is heard after the payment.",
    news("of an expiry after the payment is no news"),
  ),
  first(
    43,
    "A payment comes for an order that was cancelled.",
    news("of a payment for an order that was cancelled holds it, with its money ready to go back"),
  ),
  first(
    44,
    "A payment is heard of that belongs to no order.",
    payment("about a session of nobody's is answered, kept and logged"),
    news("%s is kept, answered and logged"),
  ),
  first(
    45,
    "What was paid is another amount or currency than was quoted.",
    payment("with another %s holds the order for the maker"),
    inFile("service/actions/checkout.test.ts")("and paid %s is held"),
  ),
  notHere(
    46,
    "The payment service shows and takes another currency than the shop's.",
    "that is switched off with every session (fault 20), and another currency is held (fault 45)",
  ),
  fault(
    47,
    "Tax comes on top, so that what is paid is more than the price of the jars.",
    inFile("service/tills/till.contract.ts")("charges tax on top as it was shown, and no more"),
    inFile("service/routes/order.test.ts")(
      "adds up on the quote, the order's page, at the till and in what is paid",
    ),
    stripe("tells tax that came on top apart"),
  ),
  first(
    48,
    "An event of a test comes to a shop that takes real money, or of another account.",
    payment(
      "of another set-up, live where this one tests, moves nothing and is told to the operator",
    ),
    stripe("tells live from test"),
  ),
  fault(49, "An event is of the newer, thin kind.", signed("takes note of %s")),
  fault(
    50,
    "An event is of a kind nobody knows.",
    payment("of a kind nobody knows is kept and does nothing"),
    news("of a kind yet to come is kept, and asks nothing of the till"),
  ),
  fault(
    51,
    "An event has the shape of an older version.",
    signed(
      "takes note of %s",
      "names the payment of a dispute, also when it comes as a whole object",
    ),
  ),
  first(
    52,
    "The process dies when an event is stored, before it is worked through.",
    reconcile("works through an event that a crash left between storing and settling"),
    everyCall("comes right when %s, whichever it is"),
  ),
  first(
    53,
    "The process dies when an event is worked through, before it is marked.",
    moments("takes one payment when the process dies between its effect and its mark"),
  ),
  fault(
    54,
    "Working an event through takes longer than anybody waits.",
    moments(
      "takes a payment by a round while whoever heard of it first waits for the till for ever",
    ),
    payment("is worked through later when the till could not be asked"),
  ),
  first(
    55,
    "No event ever comes.",
    reconcile(
      "pays an order whose event never came",
      "hears of a refund and a dispute that could not be delivered",
    ),
  ),
  fault(
    56,
    "After three days without events all of them come at once.",
    moments(
      "comes right after three days without news, when all of it comes at once, twice and in any order: %i",
    ),
    schedules("comes right in every schedule"),
  ),
  first(
    57,
    "The customer closes the browser after paying.",
    payment("pays the order, once, though it is sent five times at once"),
    reconcile("pays an order whose event never came"),
  ),
  first(
    58,
    "The customer is back before any event, and reloads the page over and over.",
    moments("takes one payment however often the customer reloads the page before any news came"),
    payment("pays the order before any event came, and the event after it changes nothing"),
  ),
  fault(
    59,
    "Somebody comes back with the session of another's order.",
    payment("with another order's session in the address shows and takes nothing of that one"),
    inFile("security/rights.test.ts")("opens nothing with another's secret, whoever asks"),
  ),
  fault(
    60,
    "A session is paid at its very end, and prices have changed since.",
    payment(
      "of a session paid in its last minute takes what was quoted, whatever the prices are by then",
    ),
  ),
];

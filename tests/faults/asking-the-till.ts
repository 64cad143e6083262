/** The shop asks the payment service for something. */
import { fault, first, inFile } from "./fault.ts";

const failure = inFile("service/tills/stripe-failure.test.ts");
const till = inFile("service/tills/till.contract.ts");
const stripe = inFile("service/tills/stripe.test.ts");
const payment = inFile("service/actions/payment.test.ts");
const checkout = inFile("service/actions/checkout.test.ts");
const reconcile = inFile("service/actions/reconcile.test.ts");
const everyCall = inFile("simulator/every-call.test.ts");

export const ASKING_THE_TILL = [
  first(
    1,
    "The connection drops before the request has arrived.",
    failure("opens one session in spite of %s"),
  ),
  first(
    2,
    "The request was carried out, and its answer is lost.",
    failure("opens one session in spite of %s"),
    payment("asks for exactly what was quoted and opens one session, though the answer was lost"),
  ),
  first(
    3,
    "All three tries are lost.",
    failure("gives up after three of %s, and opens one session later"),
    payment("keeps the order when the till is down, and goes on with the same one later"),
  ),
  first(
    4,
    "No answer ever comes.",
    failure("gives up on %s in time", "would give up within 25 s with its own time limit"),
  ),
  first(
    5,
    "The answer breaks off in the middle.",
    failure("does not know the outcome of %s, and finds the same session when asked again"),
  ),
  fault(
    6,
    "A proxy answers with a page of its own.",
    failure(
      "opens one session in spite of %s",
      "gives up after three of %s, and opens one session later",
    ),
  ),
  fault(
    7,
    "The service fails for good under the key that was sent.",
    failure("does not repeat a failure that the service keeps under the key"),
    checkout(
      "uses another key only after looking for a session under the one whose failure is kept",
    ),
  ),
  fault(
    8,
    "A twin request under the same key is still at work.",
    till("opens one session for two taps at the same moment"),
    failure("opens one session in spite of %s"),
  ),
  first(
    9,
    "The service is too busy and says how long.",
    failure("is told to wait by 429 and does not press on"),
    payment("is left alone for as long as it asks, and opens one session after"),
  ),
  fault(
    10,
    "The amount is below what can be charged.",
    checkout("leaves no order behind when the price is below what a payment can be"),
    failure("calls a charge too small for the account what it is"),
  ),
  fault(
    11,
    "The key was revoked.",
    failure("asks the operator, and never tells the key, when the key is revoked"),
    payment(
      "or no longer knows our key is told to the operator, without the key, and the order is kept",
    ),
  ),
  first(
    12,
    "The recipe or the carriage changes between two tries under one key.",
    till("refuses a key that was used for another charge: %o"),
    checkout("keeps what was quoted when the maker changes carriage meanwhile"),
  ),
  fault(
    13,
    "A key is used again when the service has forgotten it.",
    stripe("sends %s"),
    inFile("service/actions/give-back.test.ts")(
      "without an answer for longer than a key lives is looked for, not asked again",
    ),
  ),
  first(
    14,
    "The button is pressed twice, or in two tabs.",
    checkout("takes one session for two buttons pressed at once, also of two tabs"),
  ),
  fault(
    15,
    "The process dies after a session was opened, before its id is stored.",
    reconcile("finds the session of an order that never heard of it"),
    everyCall("comes right when %s, whichever it is"),
  ),
  fault(
    16,
    "The database is away after a session was opened.",
    everyCall("comes right when %s, whichever it is"),
  ),
  fault(
    17,
    "An amount is no whole number of minor units.",
    till("refuses a charge that cannot be taken and opens nothing: %o"),
    inFile("service/tills/currency.test.ts")("of %s is refused, as price and as quantity"),
  ),
  fault(
    18,
    "A product's name is endless, empty, or holds what cannot be shown.",
    stripe("sends a line that can be shown: %s"),
  ),
  fault(
    19,
    "What goes along with a charge is longer than the service takes.",
    stripe("stays within the sizes of ids and metadata at their longest"),
  ),
  fault(
    20,
    "A customer sends an address to come back to.",
    inFile("service/routes/bad-input.test.ts")("takes nothing but a quote: not %s"),
    stripe("sends exactly this form, which nothing in a dashboard can alter"),
  ),
  fault(
    21,
    "The entry of the library that is made for Node is bundled for the edge.",
    inFile("service/tills/workerd.test.ts")(
      "bundle the SDK's entry for workers, and nothing of Node",
    ),
    inFile("edge/worker.test.ts")(
      "holds nothing of Node, and of Stripe only what is made for workers",
    ),
  ),
  fault(
    22,
    "The account is set to another version of the service's interface.",
    stripe("names the pinned version and its own key on every call"),
  ),
  fault(
    23,
    "An answer holds a word that this version does not know.",
    stripe("holds a session in a state that it does not know: %o"),
    inFile("service/actions/payment-news.test.ts")(
      "of a payment for an order that was held before its money came keeps it held, and counts it",
    ),
  ),
];

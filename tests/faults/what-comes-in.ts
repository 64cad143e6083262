/** Somebody sends what nobody should. */
import { fault, first, inFile, notHere } from "./fault.ts";

const badInput = inFile("service/routes/bad-input.test.ts");
const hostOrders = inFile("service/plugin/host-orders.test.ts");
const orders = inFile("service/routes/order.test.ts");
const compose = inFile("core/compose/compose.test.ts");
const rights = inFile("security/rights.test.ts");
const gate = inFile("security/gate.test.ts");
const raw = inFile("service/raw-requests.test.ts");
const fuzz = inFile("fuzz/api.test.ts");

export const WHAT_COMES_IN = [
  first(
    83,
    "A body is no JSON, empty, null, a list, or nested a hundred deep.",
    badInput("refuses $about with $code"),
    hostOrders("is refused: %s"),
  ),
  first(
    84,
    "A body is far too large, with its length told or not.",
    badInput(
      "refuses $about with $code",
      "counts a body that comes in pieces and stops it at 64 KiB",
    ),
    inFile("edge/worker.test.ts")(
      "refuses what it cannot read with a problem, and counts a body that comes in pieces",
    ),
  ),
  fault(
    85,
    "A body says that it is something else than JSON, or nothing.",
    badInput("refuses $about with $code"),
  ),
  first(
    86,
    "A client sends a price, a state, another shop, a prototype or an unknown field.",
    badInput("refuses $about with $code", "takes nothing but a quote: not %s"),
    hostOrders("is refused: %s"),
    inFile("service/plugin/openapi.test.ts")(
      "holds nothing of this machine, and lets nobody send a price",
    ),
  ),
  fault(
    87,
    "A key stands twice in an object.",
    badInput("reads the last of two keys of one name, and prices what it read"),
  ),
  fault(
    88,
    "A number is written as no number is, or without end.",
    badInput("refuses $about with $code"),
  ),
  first(
    89,
    "Shares miss the whole, or an ingredient is unknown, twice, too many or not on offer.",
    badInput("refuses $about with $code"),
    compose(
      "refuses shares inside their bounds that miss the whole by one step",
      "names a butter or place that was left out, or told twice",
    ),
  ),
  first(
    90,
    "A share lies one step outside the maker's bounds.",
    badInput(
      "refuses $about with $code",
      "takes shares on their very bounds, of which a step further is refused",
    ),
    compose("takes shares on their bounds", "refuses %s one step past its bound"),
  ),
  first(
    91,
    "A quote is of an older recipe, has expired, or is another maker's.",
    orders(
      "of a version that is no longer for sale keeps its own rules, and none without its version is taken",
      "stands until its last second and not a second longer",
      "is refused when the product was withdrawn after the quote",
      "from another shop's key is not ours",
    ),
    hostOrders("is refused on a quote that is altered, expired, or another shop's"),
  ),
  first(
    92,
    "A quote is forged or altered.",
    orders(
      "is worthless once any byte of it is changed",
      "is worthless even where the last character says nothing",
    ),
    inFile("host-shop/host-shop.test.ts")(
      "believes no token that is altered anywhere, signed elsewhere, or too old",
    ),
  ),
  fault(
    93,
    "An address is asked by a method that it does not have.",
    rights("asked by a method that it does not have does nothing, whoever asks"),
    raw("for its method %s finds nothing"),
  ),
  fault(
    94,
    "An address is written in a way that a gate and a router might read differently.",
    rights("written in another way opens nothing that it does not open as it is"),
  ),
  fault(
    95,
    "A parameter of a query stands twice, or is out of range.",
    hostOrders("refuses ?%s"),
    inFile("service/routes/orders.test.ts")(
      "goes on where a page ended, and takes an address that was tampered with as none",
    ),
  ),
  fault(
    96,
    "A line break stands in a header, or headers and address are endless.",
    raw("for %s is refused, and the next is answered"),
  ),
  fault(
    97,
    "The key of a request is missing, endless, used again, still at work, or another's.",
    hostOrders(
      "%s is refused",
      "gives the first answer again, to the byte, in quotes or without",
      "is refused for another body, and is no business of another host's",
      "waits while the first request is at work, and takes over what never ended",
    ),
  ),
  fault(
    98,
    "A thousand requests come from one network under ever other addresses.",
    gate("is told how long to wait: %s at %s", "is known by an address, and IPv6 by its subnet"),
  ),
  fault(
    99,
    "A client hangs up in the middle.",
    raw(
      "before the order was sent whole has none, and whoever asks again has one",
      "before the answer came has one order or none, never half of one or two",
    ),
  ),
  notHere(
    100,
    "A request takes longer than its time.",
    "no clock cuts a request off: each call to the outside has a time of its own (faults 4, 54, 116)",
  ),
  fault(
    101,
    "Thousands of spoiled requests are made from the description of the API.",
    fuzz("has an answer for whatever is sent"),
    inFile("fuzz/forms.test.ts")("has an answer for whatever is typed"),
  ),
];

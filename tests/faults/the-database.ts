/** The database fails, is busy, is moved, or is another one than on this machine. */
import { fault, first, inFile, notHere } from "./fault.ts";

const everyCall = inFile("simulator/every-call.test.ts");
const health = inFile("service/operations/health.test.ts");
const contract = inFile("service/storage/contract.ts");
const onNode = inFile("service/storage/node-database.test.ts");
const older = inFile("migrations/older-schemas.test.ts");
const rebuilt = inFile("migrations/rebuilt-tables.test.ts");
const atTheEdge = inFile("edge/d1.test.ts");
const badInput = inFile("service/routes/bad-input.test.ts");
const hostOrders = inFile("service/plugin/host-orders.test.ts");
const reconcile = inFile("service/actions/reconcile.test.ts");
const moments = inFile("simulator/news.test.ts");

export const THE_DATABASE = [
  first(
    61,
    "Any one call to the database fails before it has its effect.",
    everyCall("comes right when %s, whichever it is"),
    inFile("service/messages/crash.test.ts")("loses nothing when it crashes %s any call"),
  ),
  first(
    62,
    "Any one call to the database has its effect, and its answer is lost.",
    everyCall("comes right when %s, whichever it is"),
    inFile("service/messages/crash.test.ts")("loses nothing when it crashes %s any call"),
  ),
  first(
    63,
    "The process is killed at any moment.",
    inFile("simulator/kill.test.ts")(
      "loses no order, no payment and no message when it is killed at any moment",
    ),
    everyCall("comes right when %s, whichever it is"),
  ),
  fault(
    64,
    "Another process holds the database for too long.",
    health("such as another process that holds it is told as busy, and passes"),
  ),
  fault(
    65,
    "The disk is full, or may only be read.",
    health("such as %s refuses an order, loses nothing and says when to come again"),
    inFile("service/actions/payment.test.ts")(
      "is not called taken while nothing can be stored, so that it is sent again",
    ),
  ),
  first(
    66,
    "Many read the same row and write it back at once.",
    contract("moves an order once, however many ask at the same moment"),
    inFile("service/storage/payments.contract.ts")(
      "lets no more be asked back than was taken, however many ask at the same moment",
    ),
    inFile("service/storage/stock.contract.ts")(
      "gives the last of a lot to one of two at the same moment",
    ),
  ),
  first(
    67,
    "A later statement of a list breaks a rule.",
    contract("does a list whole or not at all, and passes on what broke it"),
    onNode("is undone whole when a later statement breaks, and the break is passed on"),
  ),
  first(
    68,
    "The first statement of a list meets no row, because somebody else was there first.",
    onNode("is undone whole when a guarded update meets no row"),
    inFile("service/actions/give-back.test.ts")(
      "of an order in making is refused, and nothing goes back",
    ),
  ),
  first(
    69,
    "A migration makes a table anew to which rows of other tables belong.",
    rebuilt(
      "keeps every row of theirs when it is written by hand",
      "as it is generated is undone whole where deleting %s",
      "hold for every one that has landed",
      "refuse the form that is generated, for each table that another points at",
    ),
    atTheEdge(
      "keeps the rows that point at a table when it is made anew by hand, and by no other way",
    ),
    onNode("has only strict tables, and none that deletes along"),
  ),
  fault(
    70,
    "A migration stops half-way.",
    older("leaves the data whole and says what to do when it %s"),
  ),
  fault(
    71,
    "A migration is merged later than a newer one.",
    older("is told when an older one was merged later, which would be left out for ever"),
  ),
  fault(
    72,
    "A statement has more values, a longer pattern or fewer statements than the edge takes.",
    atTheEdge("refuses an interactive transaction and more than a hundred bound values"),
    contract("takes an empty list for nothing to do", "issues and closes a batch of forty orders"),
    inFile("service/storage/shelf.contract.ts")(
      "finds by words of any length and letters, and by eighty fats of the library",
    ),
  ),
  fault(
    73,
    "A value is larger than the edge stores.",
    badInput("counts a body that comes in pieces and stops it at 64 KiB"),
    inFile("service/storage/shelf.contract.ts")(
      "keeps a table of four megabytes to the last character, for a day",
    ),
  ),
  fault(
    74,
    "A number comes where the id of something belongs.",
    badInput("refuses $about with $code"),
    atTheEdge(
      "binds every number as a real, which a strict integer column takes back as an integer",
    ),
  ),
  fault(
    75,
    "A number is larger than can be counted exactly.",
    badInput("refuses $about with $code"),
    hostOrders("is refused: %s"),
    contract("keeps money and times as integers, to the largest amount that can be charged"),
  ),
  fault(
    76,
    "What is stored as a number is none.",
    contract("refuses %s, and does not take it for a twin"),
  ),
  fault(
    77,
    "A join brings two columns of one name together.",
    atTheEdge("gives both of two columns of one name that a join brings together"),
  ),
  notHere(
    78,
    "A copy of the database that lags behind is read after a payment.",
    "the service opens no session on a replica, so every read goes to the one that is written to",
  ),
  fault(
    79,
    "Yesterday's copy of the shop is put back, and events come again.",
    reconcile(
      "pays an order again in yesterday's copy of the shop, and tells each reader under the same id",
    ),
    inFile("service/commands/backup.test.ts")(
      "puts a copy where there is none, with everything in it",
    ),
  ),
  fault(
    80,
    "A name holds a zero byte or half a character.",
    hostOrders("is refused: %s"),
    inFile("service/tills/stripe.test.ts")("sends a line that can be shown: %s"),
    atTheEdge("keeps quotation marks inside the text and refuses what SQL cannot hold"),
  ),
  fault(
    81,
    "The clock jumps back, or on.",
    moments(
      "takes a payment once when the clock jumps back, and ends no order whose till is open when it jumps on",
    ),
    health("is not ready when the clock jumped back, also after another event"),
  ),
  fault(
    82,
    "One request asks more of the database than the edge allows.",
    everyCall("asks less of the database than the edge allows"),
    inFile("service/messages/crash.test.ts")(
      "stays under what the edge allows a request, however many are due",
    ),
  ),
];

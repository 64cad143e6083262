/**
 * Who may do what: every route the app has, asked by everybody who may knock. Each pair has an answer that the rules
 * foresee, and nobody is shown or changes anything of a shop that is not theirs.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { allRows } from "../helpers/all-rows.ts";
import {
  type GuardedShop,
  OTHER,
  ROLES,
  type Role,
  addressOf,
  openGuardedShop,
} from "./guarded-shop.ts";
import { OF_NO_SHOP, RULES, type Rule } from "./route-rules.ts";

/** `in`: it was theirs to ask and was worked through, whatever came of it; the rest are refusals by their kind. */
type Class = "in" | "sign in" | "not your role" | "no key" | "unsigned" | "nothing here" | "broken";

const everybody = (one: Class) =>
  Object.fromEntries(ROLES.map((role) => [role, one])) as Record<Role, Class>;
const INSIDE: Readonly<Record<Role, Class>> = {
  ...{ ...everybody("sign in"), bench: "in", owner: "in", stranger: "nothing here" },
};

/** What each role meets under each rule, at an address that names something of the first shop. */
const FORESEEN: Readonly<Record<Rule, Readonly<Record<Role, Class>>>> = {
  open: everybody("in"),
  link: everybody("in"),
  key: { ...everybody("no key"), key: "in", "strange key": "nothing here" },
  signature: everybody("unsigned"),
  door: everybody("in"),
  inside: INSIDE,
  owner: { ...INSIDE, bench: "not your role" },
};

const CODES: Readonly<Record<string, Class>> = {
  "maker.sign-in.needed": "sign in",
  "maker.role.not-enough": "not your role",
  "request.key.missing": "no key",
  "payment.signature.invalid": "unsigned",
  // The till's own word on a session that is over; the shop is whole.
  "payment.till.rejected": "in",
};
const STATUS: Readonly<Record<Class, readonly number[]>> = {
  ...{ "sign in": [401], "not your role": [403], "no key": [401], unsigned: [400] },
  ...{
    "nothing here": [404],
    in: [200, 201, 303, 400, 403, 404, 409, 410, 415, 422, 502],
    broken: [],
  },
};

let shop: GuardedShop;
beforeAll(async () => {
  shop = await openGuardedShop();
});
afterAll(() => shop.close());

const routes = () => [
  ...new Set(
    shop.app.routes
      .filter(({ method }) => method !== "ALL") // middleware
      .map(({ method, path }) => `${method} ${path}`),
  ),
];

function foreseen(role: Role, route: string): readonly Class[] {
  const rule = RULES.get(route)!;
  const meets = FORESEEN[rule][role];
  const namesNothing = !/\/:|recall/.test(route) || OF_NO_SHOP.has(route);
  // Without something of the first shop in its address, it is about their own.
  const is = meets === "nothing here" && namesNothing ? "in" : meets;
  // An empty form names nothing, which a route may answer by saying that it is not there.
  return is === "in" && route.startsWith("POST") ? ["in", "nothing here"] : [is];
}

async function askAs(
  role: Role,
  route: string,
  path = addressOf(route.split(" ")[1]!, shop.things),
) {
  const [method = ""] = route.split(" ");
  const isApi = path.startsWith("/v1");
  const headers = {
    "content-type": isApi ? "application/json" : "application/x-www-form-urlencoded",
  };
  const body = isApi ? "{}" : "";
  const asked = { accept: "application/json", body, headers: method === "GET" ? {} : headers };
  const answer = await shop.ask(role, method, path, asked);
  const text = await answer.text();
  return { status: answer.status, is: classOf(answer, text), text };
}

function classOf({ status, headers }: Response, text: string): Class {
  const isProblem = headers.get("content-type") === "application/problem+json";
  const { code } = (isProblem ? JSON.parse(text) : {}) as { code?: string };
  const known = CODES[code ?? ""];
  if (known) return known;
  if (status >= 500) return "broken";
  return status === 404 ? "nothing here" : "in";
}

/** Every row of the first shop, of all tables; what a visit or a look leaves behind is not its work. */
async function everything(): Promise<string> {
  const all = await allRows(shop.test.db, ["sessions", "passkey_challenges"]);
  const own = all.map(({ table, rows }) => [
    table,
    rows.filter((row) => row.shop_id !== OTHER && row.id !== OTHER),
  ]);
  return JSON.stringify(own);
}

/** Marks of the first shop that no answer to a stranger may hold. */
const secrets = () => ["zqmark", shop.things.reference, shop.things.hosted, shop.things.number];

it("has a rule for every route, and a route for every rule", () => {
  expect(routes().filter((route) => !RULES.has(route))).toEqual([]);
  expect([...RULES.keys()].filter((route) => !routes().includes(route))).toEqual([]);
  expect(routes().length).toBeGreaterThan(150);
});

describe("each route, asked by", () => {
  const closed = (route: string) => !["open", "link", "door"].includes(RULES.get(route) ?? "");

  it.each(["nobody", "stranger", "strange key"] as const)(
    "%s, who is shown nothing and changes nothing",
    async (role) => {
      const before = await everything();
      const odd: unknown[] = [];
      for (const route of routes().filter(closed)) {
        const { status, is, text } = await askAs(role, route);
        const fits = foreseen(role, route).includes(is) && STATUS[is].includes(status);
        // What somebody asked for is said back to them, and is no secret.
        const path = addressOf(route.split(" ")[1]!, shop.things);
        const shown = secrets().filter((mark) => text.includes(mark) && !path.includes(mark));
        if (!fits || shown.length > 0) odd.push([route, status, is, shown]);
      }
      expect(odd).toEqual([]);
      expect(await everything()).toBe(before);
    },
  );

  it.each(["key", "bench", "owner"] as const)("%s", async (role) => {
    const odd: unknown[] = [];
    for (const route of routes().filter(closed).sort()) {
      const { status, is } = await askAs(role, route);
      const fits = foreseen(role, route).includes(is) && STATUS[is].includes(status);
      if (!fits) odd.push([route, status, is, foreseen(role, route)]);
    }
    expect(odd).toEqual([]);
  });

  it("anybody, where it is open or they hold the link", async () => {
    const odd: unknown[] = [];
    for (const route of routes().filter((each) => !closed(each))) {
      for (const role of ROLES) {
        const { status, is } = await askAs(role, route);
        const fits = foreseen(role, route).includes(is) || status === 410; // a link is good once
        // A key asks the other side of this route, and says so.
        const isHost = route === "POST /v1/orders" && role.endsWith("key");
        if (!fits && !isHost) odd.push([role, route, status, is]);
      }
    }
    expect(odd).toEqual([]);
  });
});

describe("a link", () => {
  const wrong = (
    path: string,
    { order, another, link, code, quote, till }: GuardedShop["things"],
  ) => {
    const swapped = `${order.split("/")[0]}/${another.split("/")[1]}`;
    const altered = (text: string) =>
      `${text.slice(0, -2)}${text.at(-2) === "A" ? "B" : "A"}${text.at(-1)}`;
    return path
      .replace(order, swapped)
      .replace(link, altered(link))
      .replace(code, altered(code))
      .replace(quote, crypto.randomUUID())
      .replace(till, `${till}0`);
  };

  it("opens nothing with another's secret, whoever asks", async () => {
    const odd: unknown[] = [];
    for (const route of routes().filter((each) => RULES.get(each) === "link")) {
      const path = wrong(addressOf(route.split(" ")[1]!, shop.things), shop.things);
      for (const role of ["nobody", "owner", "stranger"] as const) {
        const { status, text } = await askAs(role, route, path);
        const isShut =
          status === 404 || status === 410 || (status === 400 && path.startsWith("/v1"));
        if (!isShut || text.includes(shop.things.reference)) odd.push([role, route, status]);
      }
    }
    expect(odd).toEqual([]);
  });
});

describe("an address", () => {
  const OTHER_METHODS = ["PUT", "DELETE", "PATCH", "PROPFIND", "GET"];

  it("asked by a method that it does not have does nothing, whoever asks", async () => {
    const paths = [...new Set(routes().map((route) => route.split(" ")[1]!))];
    const before = await everything();
    const odd: unknown[] = [];
    for (const [at, path] of paths.entries()) {
      const others = OTHER_METHODS.filter((method) => !RULES.has(`${method} ${path}`));
      // Each on some addresses; GET, which another address may answer that looks alike, on all that lack it.
      for (const method of new Set([others[at % others.length]!, others.at(-1)!])) {
        const { status } = await askAs("owner", `${method} ${path}`);
        if (method === "GET" ? status >= 500 : status !== 404) odd.push([method, path, status]);
      }
    }
    expect(odd).toEqual([]);
    expect(await everything()).toBe(before);
  });

  /** Ways to write an address that a gate and a router might read differently. */
  const WRITTEN: readonly ((path: string) => string)[] = [
    (path) => `/${path}`,
    (path) => `${path}/`,
    (path) => path.toUpperCase(),
    (path) => path.replace(/[a-z]/, (letter) => `%${letter.charCodeAt(0).toString(16)}`),
    (path) => path.replace(/[a-z]/, (letter) => `%25${letter.charCodeAt(0).toString(16)}`),
    (path) => path.replace(/(?<=.)\//, "%2f"),
    (path) => path.replace(/(?<=.)\//, "/%2e/"),
    (path) => `/assets/..%2f${path.slice(1)}`,
    (path) => `/shop/%2e%2e${path}`,
    (path) => `/shop/%252e%252e${path}`,
    (path) => `${path}%00`,
    (path) => `${path};/assets/shop.css`,
    (path) => path.replaceAll("/", "\\"),
  ];

  it("written in another way opens nothing that it does not open as it is", async () => {
    const odd: unknown[] = [];
    const shut = routes().filter((route) =>
      ["key", "inside", "owner"].includes(RULES.get(route) ?? ""),
    );
    for (const [at, route] of shut.entries()) {
      const path = addressOf(route.split(" ")[1]!, shop.things);
      for (const step of [0, 5]) {
        const written = WRITTEN[(at + step) % WRITTEN.length]!(path);
        for (const role of RULES.get(route) === "owner"
          ? (["nobody", "bench"] as const)
          : (["nobody"] as const)) {
          const { status, is, text } = await askAs(role, route, written);
          const shown = secrets().filter((mark) => text.includes(mark) && !written.includes(mark));
          if (is === "in" || is === "broken" || shown.length > 0)
            odd.push([role, written, status, is, shown]);
        }
      }
    }
    expect(odd).toEqual([]);
  });
});

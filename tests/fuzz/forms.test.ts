/**
 * What nobody should type into any form there is, or send in place of a page's own script: each is answered in time by
 * a page that says what to mend, and nothing that was typed gets out of its place.
 */
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { addressOf } from "../security/guarded-shop.ts";
import { RULES } from "../security/route-rules.ts";
import { type Sent, type TriedShop, openTriedShop } from "./complaints.ts";
import { type Form, formsOn } from "./forms.ts";
import { LONGEST, edits, hostileText, spoiled } from "./hostile.ts";
import { GREAT_RUN_MS, SEED, drawn, runs } from "./runs.ts";

let tried: TriedShop;
beforeAll(async () => {
  tried = await openTriedShop();
});
afterAll(() => tried.close());

describe("every form", () => {
  it("has an answer for whatever is typed", { timeout: GREAT_RUN_MS }, async () => {
    const pages = new Map<string, readonly Form[]>();
    const read = async (path: string) => {
      const answer = await tried.shop.ask("owner", "GET", path);
      pages.set(path, formsOn(await answer.text(), path));
    };
    const readable = [...RULES.keys()].filter(
      (route) => route.startsWith("GET ") && !/\.(csv|json|pdf\\}?)$/.test(route),
    );
    for (const route of readable) await read(addressOf(route.slice(4), tried.shop.things));
    const actions = new Map(
      [...pages].flatMap(([page, forms]) => forms.map(({ action }) => [action, page])),
    );
    expect(actions.size).toBeGreaterThan(60);
    const typed = fc.record({
      form: fc.nat(9999),
      edits: fc.array(
        fc.record({
          at: fc.nat(999),
          how: fc.constantFrom("type", "type", "type", "type", "leave out", "twice", "file", "add"),
          text: hostileText,
        }),
        { minLength: 1, maxLength: 4 },
      ),
      as: fc.constantFrom("form", "form", "form", "form", "parts", "json"),
      accept: fc.constantFrom("text/html", "text/html", "application/json"),
      more: fc.nat(400),
    });
    async function* requests() {
      const all = [...actions];
      for (const one of drawn(typed, runs(450))) {
        const [action, page] = all[one.form % all.length]!;
        if (one.form % 8 === 0) await read(page); // what stands there may have changed
        const form = pages.get(page)!.find((each) => each.action === action);
        yield {
          ...{ role: "owner" as const, method: "POST", path: action, accept: one.accept },
          ...filled(form?.fields ?? [], one),
        };
      }
    }
    expect(await tried.tryAll(requests()), `seed ${SEED}`).toEqual([]);
    tried.tell();
  });
});

interface Typed {
  readonly edits: readonly { readonly at: number; readonly how: string; readonly text: string }[];
  readonly as: string;
  readonly more: number;
}

function filled(
  fields: Form["fields"],
  { edits: changes, as, more }: Typed,
): Pick<Sent, "headers" | "body"> {
  const now: [string, string | File][] = fields.map(([name, value]) => [name, value]);
  for (const { at, how, text } of changes) {
    const place = now.length === 0 ? -1 : at % now.length;
    const [name, value] = now[place] ?? ["x", ""];
    if (how === "add" || place < 0) now.push([text.slice(0, 50) || "x", text]);
    else if (how === "leave out") now.splice(place, 1);
    else if (how === "twice") now.push([name, value]);
    else if (how === "file") now[place] = [name, new File([text], text.slice(0, 20))];
    else now[place] = [name, more === 0 ? LONGEST : text];
  }
  const texts = now.map(([name, value]): [string, string] => [
    name,
    value instanceof File ? value.name : value,
  ]);
  if (as === "json") {
    return {
      headers: { "content-type": "application/json" },
      body: JSON.stringify(Object.fromEntries(texts)),
    };
  }
  if (as === "form") return { headers: {}, body: new URLSearchParams(texts) };
  const body = new FormData();
  for (const [name, value] of now) body.append(name, value);
  return { headers: {}, body };
}

describe("every route that takes something", () => {
  /** What a browser says of a passkey; the strings of it are checked before anything is asked of them. */
  const credential = {
    to: "/maker",
    name: "Phone",
    response: {
      ...{ id: "AAAA", rawId: "AAAA", type: "public-key", clientExtensionResults: {} },
      response: {
        ...{
          clientDataJSON: "e30",
          authenticatorData: "AAAA",
          signature: "AAAA",
          userHandle: "AAAA",
        },
        ...{ attestationObject: "o2NmbXRkbm9uZQ", transports: ["usb"] },
      },
    },
  };

  it("has an answer for JSON that no script of ours sends", { timeout: GREAT_RUN_MS }, async () => {
    const posts = [...RULES.keys()].filter((route) =>
      /^POST \/(maker|shop|till|orders)/.test(route),
    );
    const passkeyOrPost = fc.tuple(fc.constantFrom(...posts), fc.boolean(), edits);
    function* requests(): Generator<Sent> {
      for (const [route, isPasskey, changes] of drawn(passkeyOrPost, runs(150))) {
        const path = isPasskey
          ? PASSKEY_PATHS[changes.length % 2]!
          : addressOf(route.slice(5), tried.shop.things);
        const body = JSON.stringify(spoiled(credential, changes)) ?? "";
        const headers = { "content-type": "application/json" };
        yield { role: "owner", method: "POST", path, accept: "application/json", headers, body };
      }
    }
    expect(await tried.tryAll(requests()), `seed ${SEED}`).toEqual([]);
  });
});

const PASSKEY_PATHS = ["/maker/enter/passkey", "/maker/you/passkeys"];

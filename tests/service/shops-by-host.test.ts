/**
 * Which shop a request is for, and the settings of one among several.
 */
import { describe, expect, it } from "vitest";
import { notForAll, readShopLines } from "#service/shop-lines.ts";
import { hostOf, isHostName, urlOfHost } from "#service/shops-by-host.ts";

describe("a host name", () => {
  it.each(["shop.example", "moss.localhost", "a", "xn--bcher-kva.example", "1.example"])(
    "is %s",
    (name) => expect(isHostName(name)).toBe(true),
  );

  it.each([
    ...["", "Shop.example", "shop.example.", ".example", "shop..example", "shop.example:80"],
    ...["-a.example", "a-.example", "lost+found", "a_b.example", "bücher.example", "a/b", ".."],
    ...["a".repeat(64), Array(64).fill("abcd").join(".")],
  ])("is not %j", (name) => expect(isHostName(name)).toBe(false));

  it.each([
    ["http://shop.example/", "shop.example"],
    ["http://SHOP.example:8787/x?y", "shop.example"],
    ["https://shop.example./", "shop.example"],
    ["http://user@shop.example/", "shop.example"],
    ["http://shop.example@other.example/", "other.example"],
    ["http://127.0.0.1:1/", "127.0.0.1"],
    ["http://[::1]/", "[::1]"],
  ])("is read from %s", (url, host) => expect(hostOf({ url })).toBe(host));

  it("is an https address, but on this machine the one it listens on", () => {
    expect(urlOfHost("shop.example", 8787)).toBe("https://shop.example");
    expect(urlOfHost("moss.localhost", 8787)).toBe("http://moss.localhost:8787");
    expect(urlOfHost("moss.localhost")).toBe("https://moss.localhost");
  });
});

describe("the settings of one shop among several", () => {
  it("are lines, with remarks and quotation marks; an empty value takes the place of none", () => {
    const text = `# of the till\r\nSTRIPE_SECRET_KEY=sk_test_a\r\n\r\n  SOFTSET_KEYS='{"a":"b=c"}'  \nSOFTSET_URL=\nSOFTSET_MAIL_TO=''\n`;
    expect(readShopLines("shop.example", text)).toEqual({
      variables: {
        STRIPE_SECRET_KEY: "sk_test_a",
        SOFTSET_KEYS: '{"a":"b=c"}',
      },
      faults: [],
    });
  });

  it.each([
    ["what is no line", "hush hush", /^Line 1 is not NAME=value/],
    ["a name twice", "SOFTSET_KEYS=hush\nSOFTSET_KEYS=hush", /^SOFTSET_KEYS: stands there twice/],
    ["an empty one before it", "SOFTSET_KEYS=\nSOFTSET_KEYS=hush", /^SOFTSET_KEYS: stands there/],
    ["an unknown name", "SOFTSET_KEY=hush", /^SOFTSET_KEY: there is no such setting/],
    ["a name of every object", "constructor=hush", /^constructor: there is no such setting/],
    ["what all share", "PORT=hush", /^PORT: is set for all shops together/],
    ["another database", "SOFTSET_DATABASE=hush", /^SOFTSET_DATABASE: the database lies where/],
    [
      "another's address",
      "SOFTSET_URL=https://other.example/hush",
      /^SOFTSET_URL: its host must be shop\.example/,
    ],
  ])("are refused with %s, and no value is repeated", (_, text, fault) => {
    const { faults } = readShopLines("shop.example", text);
    expect(faults).toEqual([expect.stringMatching(fault)]);
    expect(faults[0]).not.toContain("hush");
  });

  it("are never those of all, as each shop would take itself to be that one", () => {
    expect(notForAll({ PORT: "1", SOFTSET_LOG: "json", SOFTSET_KEYS: "" })).toEqual([]);
    const found = notForAll({ SOFTSET_KEYS: "hush", STRIPE_SECRET_KEY: "hush" });
    expect(found.map((each) => each.split(":")[0])).toEqual(["SOFTSET_KEYS", "STRIPE_SECRET_KEY"]);
    expect(found.join()).not.toContain("hush");
  });
});

/**
 * Settings: sound defaults, every fault at once, and no half-set till.
 */
import { describe, expect, it } from "vitest";
import { SettingsFault, readSettings } from "#service/settings.ts";

describe("settings", () => {
  it("need nothing at all for a shop on this machine", () => {
    const settings = readSettings({});
    expect(settings).toMatchObject({ host: "127.0.0.1", port: 8787, database: ".data/shop.db" });
    expect(settings.till.secretKey).toBeUndefined();
  });

  it("take an empty variable for one that is not set", () => {
    expect(readSettings({ PORT: "", STRIPE_SECRET_KEY: "" }).port).toBe(8787);
  });

  it("list every fault at once", () => {
    const read = () => readSettings({ PORT: "seventy", SOFTSET_URL: "not an address" });
    expect(read).toThrow(SettingsFault);
    expect(read).toThrow(/PORT[\s\S]*SOFTSET_URL/);
  });

  it("drop the slash at the end of the shop's address", () => {
    expect(readSettings({ SOFTSET_URL: "https://shop.example/" }).url).toBe("https://shop.example");
  });

  it("split several webhook secrets and find another address of the payment service", () => {
    const { till } = readSettings({
      STRIPE_SECRET_KEY: "sk_test_x",
      STRIPE_WEBHOOK_SECRETS: "whsec_a,whsec_b",
      STRIPE_API: "http://127.0.0.1:4010",
    });
    expect(till.webhookSecrets).toEqual(["whsec_a", "whsec_b"]);
    expect(till).toMatchObject({ host: "127.0.0.1", port: 4010, protocol: "http" });
  });
});

/**
 * Settings: the environment read once, checked once, typed after. Every fault is listed at once.
 */
import * as z from "zod";
import type { TillSettings } from "./tills/choose-till.ts";

const secret = z.string().trim().min(1);

const Environment = z.object({
  HOST: z.string().default("127.0.0.1"),
  PORT: z.coerce.number().int().min(0).max(65_535).default(8787),
  /** Address people reach the shop by; without it the address it listens on. */
  SOFTSET_URL: z.url({ protocol: /^https?$/ }).optional(),
  SOFTSET_DATABASE: z.string().min(1).default(".data/shop.db"),
  /** Secrets of this shop; without it a key file beside the database is made and used. */
  SOFTSET_KEYS: secret.optional(),
  STRIPE_SECRET_KEY: secret.optional(),
  /** One or, while rolling over, several, separated by commas. */
  STRIPE_WEBHOOK_SECRETS: secret.optional(),
  /** Another address for Stripe's API, for tests. */
  STRIPE_API: z.url().optional(),
  NODE_ENV: z.string().optional(),
});

export interface Settings {
  readonly host: string;
  readonly port: number;
  readonly url: string | undefined;
  readonly database: string;
  readonly keys: string | undefined;
  /** As given; `choose-till.ts` decides what they mean. */
  readonly till: TillSettings;
}

/**
 * Read settings.
 * @param environment variables by name
 * @throws SettingsFault with every fault in one message
 */
export function readSettings(environment: Readonly<Record<string, string | undefined>>): Settings {
  const given = Object.fromEntries(Object.entries(environment).filter(([, value]) => value !== ""));
  const parsed = Environment.safeParse(given);
  if (!parsed.success) {
    const faults = parsed.error.issues.map(
      ({ path, message }) => `  ${path.join(".")}: ${message}`,
    );
    throw new SettingsFault(`These settings need mending:\n${faults.join("\n")}`);
  }
  const env = parsed.data;
  return {
    host: env.HOST,
    port: env.PORT,
    url: env.SOFTSET_URL?.replace(/\/+$/, ""),
    database: env.SOFTSET_DATABASE,
    keys: env.SOFTSET_KEYS,
    till: tillSettings(env),
  };
}

export class SettingsFault extends Error {}

function tillSettings(env: z.infer<typeof Environment>): TillSettings {
  const api = env.STRIPE_API ? new URL(env.STRIPE_API) : undefined;
  return {
    secretKey: env.STRIPE_SECRET_KEY,
    webhookSecrets: env.STRIPE_WEBHOOK_SECRETS?.split(","),
    host: api?.hostname,
    port: api?.port ? Number(api.port) : undefined,
    protocol: api ? (api.protocol === "https:" ? "https" : "http") : undefined,
  };
}

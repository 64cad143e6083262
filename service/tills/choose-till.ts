/**
 * Which till the shop runs: with Stripe keys the real one and no other, without any the practice
 * till.
 */
import { createPracticeTill, type PracticeParts, type PracticeTill } from "./practice.ts";
import { createStripeTill, type StripeSettings, type StripeTill } from "./stripe.ts";

/** As they come from the environment: anything may be missing or blank. */
export type TillSettings = {
  readonly [Name in keyof StripeSettings]?: StripeSettings[Name] | undefined;
};

/**
 * The settings cannot be used as they are: the service must not start. The message holds no secret.
 */
export class TillMisconfigured extends Error {
  override readonly name = "TillMisconfigured";
}

/**
 * Choose the till. As soon as any Stripe key or webhook secret is set, only the Stripe till can
 * come out of here.
 * @param practice what the practice till would need; left alone when keys are set
 * @throws TillMisconfigured when the keys are incomplete or not what they should be
 */
export function chooseTill(
  settings: TillSettings,
  practice: PracticeParts,
): StripeTill | PracticeTill {
  const secretKey = settings.secretKey?.trim() ?? "";
  // A newline copied along with a secret would make every signature fail.
  const webhookSecrets = (settings.webhookSecrets ?? []).map((it) => it.trim()).filter(Boolean);
  if (secretKey === "" && webhookSecrets.length === 0) return createPracticeTill(practice);
  if (!/^[rs]k_(test|live)_\w+$/.test(secretKey)) {
    misconfigured("the Stripe secret key is missing, or is not one that starts with sk_ or rk_");
  }
  if (webhookSecrets.length === 0) {
    misconfigured("no Stripe webhook secret is set: payments would never be noticed");
  }
  if (!webhookSecrets.every((secret) => /^whsec_\S+$/.test(secret))) {
    misconfigured("a Stripe webhook secret does not start with whsec_, or holds a space");
  }
  const { host, port, protocol, timeoutMs } = settings;
  if (protocol === "http" && !isThisMachine(host)) {
    misconfigured("the Stripe key may travel over plain http to this machine only");
  }
  return createStripeTill({
    secretKey,
    webhookSecrets,
    ...(host === undefined ? {} : { host }),
    ...(port === undefined ? {} : { port }),
    ...(protocol === undefined ? {} : { protocol }),
    ...(timeoutMs === undefined ? {} : { timeoutMs }),
  });
}

function isThisMachine(host: string | undefined): boolean {
  return host === "localhost" || host === "127.0.0.1" || host === "[::1]";
}

function misconfigured(message: string): never {
  throw new TillMisconfigured(message);
}

/**
 * A Stripe till that talks to the stand-in for Stripe's API.
 */
import { createStripeTill } from "#service/tills/stripe.ts";
import type { StripeServer } from "../../helpers/stripe-server.ts";

export function openStripeTill(
  server: StripeServer,
  changed: { secretKey?: string; timeoutMs?: number } = {},
) {
  return createStripeTill({ ...server.settings, webhookSecrets: ["whsec_test"], ...changed });
}

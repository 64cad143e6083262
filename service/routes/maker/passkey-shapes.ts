/**
 * What a browser sends of a passkey. What is in the fields is the WebAuthn library's to check.
 */
import * as z from "zod";

/** Longest field: the largest post-quantum keys stay under this. */
const Text = z.string().max(16_384);
const Id = z.string().min(1).max(1400); // a credential id is at most 1023 bytes (W3C Web Authentication)

const credential = {
  id: Id,
  rawId: Id,
  type: z.literal("public-key"),
  authenticatorAttachment: z.enum(["cross-platform", "platform"]).exactOptional(),
  clientExtensionResults: z.looseObject({}),
};

const Transport = z.enum(["ble", "cable", "hybrid", "internal", "nfc", "smart-card", "usb"]);

export const AttestationShape = z.object({
  name: z.string(),
  response: z.object({
    ...credential,
    response: z.object({
      clientDataJSON: Text,
      attestationObject: Text,
      transports: z.array(Transport).max(10).exactOptional(),
    }),
  }),
});

export const AssertionShape = z.object({
  to: z.string().max(2000),
  response: z.object({
    ...credential,
    response: z.object({
      clientDataJSON: Text,
      authenticatorData: Text,
      signature: Text,
      userHandle: z.string().max(100).exactOptional(),
    }),
  }),
});

/**
 * What is used of the WebAuthn library. `passkeys.ts` loads this file when the first passkey is met: the library brings
 * parsers for certificates, which a start of the service should not wait for.
 */
export {
  generateAuthenticationOptions,
  generateRegistrationOptions,
  verifyAuthenticationResponse,
  verifyRegistrationResponse,
} from "@simplewebauthn/server";

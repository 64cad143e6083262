/**
 * An authenticator in software: ES256 keys, attestation "none", as a browser would hand it on (W3C Web Authentication,
 * sections 6.1 and 6.5; CBOR of RFC 8949 by hand).
 */
import { type KeyObject, createHash, generateKeyPairSync, randomBytes, sign } from "node:crypto";
import type {
  AuthenticationResponseJSON,
  PublicKeyCredentialCreationOptionsJSON,
  PublicKeyCredentialRequestOptionsJSON,
  RegistrationResponseJSON,
} from "@simplewebauthn/server";

const USER_PRESENT = 0x01;
const USER_VERIFIED = 0x04;
const HAS_CREDENTIAL = 0x40;

export interface Behaviour {
  /** Where the page stands. */
  readonly origin: string;
  /** What the counter shows; 0 for one that does not count. */
  readonly counter?: number;
  readonly verifiesUser?: boolean;
  /** Instead of the options' own. */
  readonly rpId?: string;
}

/** One passkey on one device. */
export class SoftPasskey {
  readonly #keys = generateKeyPairSync("ec", { namedCurve: "P-256" });
  readonly id = randomBytes(32);
  #userHandle = "";

  /** Answer a request to make a passkey. */
  create(
    options: PublicKeyCredentialCreationOptionsJSON,
    behaviour: Behaviour,
  ): RegistrationResponseJSON {
    this.#userHandle = options.user.id;
    const rpId = behaviour.rpId ?? options.rp.id!;
    const length = Buffer.from([this.id.length >> 8, this.id.length & 0xff]);
    const credential = [Buffer.alloc(16), length, this.id, coseKey(this.#keys.publicKey)];
    const authData = Buffer.concat([head(rpId, HAS_CREDENTIAL, behaviour), ...credential]);
    const attestation = map([
      [text("fmt"), text("none")],
      [text("attStmt"), map([])],
      [text("authData"), bytes(authData)],
    ]);
    return {
      ...this.#names(),
      response: {
        clientDataJSON: clientData("webauthn.create", options.challenge, behaviour.origin),
        attestationObject: attestation.toString("base64url"),
        transports: ["internal"],
      },
    };
  }

  /** Answer a request to come in. */
  get(
    options: PublicKeyCredentialRequestOptionsJSON,
    behaviour: Behaviour,
  ): AuthenticationResponseJSON {
    const authData = head(behaviour.rpId ?? options.rpId!, 0, behaviour);
    const clientDataJSON = clientData("webauthn.get", options.challenge, behaviour.origin);
    const hash = createHash("sha256").update(Buffer.from(clientDataJSON, "base64url")).digest();
    const signature = sign("sha256", Buffer.concat([authData, hash]), this.#keys.privateKey);
    return {
      ...this.#names(),
      response: {
        clientDataJSON,
        authenticatorData: authData.toString("base64url"),
        signature: signature.toString("base64url"),
        userHandle: this.#userHandle,
      },
    };
  }

  #names() {
    const id = this.id.toString("base64url");
    const type = "public-key" as const;
    return { id, rawId: id, type, clientExtensionResults: {} };
  }
}

function head(rpId: string, more: number, { counter = 0, verifiesUser = true }: Behaviour) {
  const flags = USER_PRESENT | (verifiesUser ? USER_VERIFIED : 0) | more;
  const rest = Buffer.alloc(5);
  rest.writeUInt8(flags, 0);
  rest.writeUInt32BE(counter, 1);
  return Buffer.concat([createHash("sha256").update(rpId).digest(), rest]);
}

function clientData(type: string, challenge: string, origin: string): string {
  const data = { type, challenge, origin, crossOrigin: false };
  return Buffer.from(JSON.stringify(data)).toString("base64url");
}

/** COSE key of RFC 9053: EC2, ES256, P-256. */
function coseKey(key: KeyObject): Buffer {
  const { x, y } = key.export({ format: "jwk" });
  return map([
    [whole(1), whole(2)],
    [whole(3), whole(-7)],
    [whole(-1), whole(1)],
    [whole(-2), bytes(Buffer.from(x!, "base64url"))],
    [whole(-3), bytes(Buffer.from(y!, "base64url"))],
  ]);
}

/** Head of a CBOR item of a major type; lengths up to 65 535. */
function item(major: number, value: number): Buffer {
  const kind = major << 5;
  if (value < 24) return Buffer.from([kind | value]);
  if (value < 256) return Buffer.from([kind | 24, value]);
  return Buffer.from([kind | 25, value >> 8, value & 0xff]);
}

const whole = (value: number) => (value < 0 ? item(1, -1 - value) : item(0, value));
const bytes = (value: Buffer) => Buffer.concat([item(2, value.length), value]);
const text = (value: string) => Buffer.concat([item(3, value.length), Buffer.from(value)]);
const map = (entries: readonly (readonly [Buffer, Buffer])[]) =>
  Buffer.concat([item(5, entries.length), ...entries.flat()]);

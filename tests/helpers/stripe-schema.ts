/**
 * A JSON Schema of what may be sent to open a Checkout Session, made from the types of the SDK that
 * is installed.
 *
 * Made on first use (about 3 s) and kept under node_modules/.cache for the same versions. In those
 * types every enumeration stays open to any text, for values yet to come; here the 97 of them are
 * closed, so that a misspelt value is refused as the payment service would.
 */
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { Ajv, type AnySchemaObject, type ValidateFunction } from "ajv";
import type { Schema } from "ts-json-schema-generator";

const ROOT = join(import.meta.dirname, "..", "..");
const ENTRY = `import type Stripe from "stripe";
export type SessionCreate = Stripe.Checkout.SessionCreateParams;
`;

/**
 * A check that also turns the texts of a decoded form into the numbers and booleans they stand for.
 */
export async function compileSessionCreate(): Promise<ValidateFunction> {
  const ajv = new Ajv({ coerceTypes: true, allErrors: true, strict: false });
  return ajv.compile((await readOrMakeSchema()) as AnySchemaObject);
}

async function readOrMakeSchema(): Promise<Schema> {
  const folder = join(ROOT, "node_modules", ".cache", "softset-tills");
  const versions = ["stripe", "ts-json-schema-generator"].map(versionOf).join("-");
  const file = join(folder, `session-create-${versions}.json`);
  if (existsSync(file)) return JSON.parse(readFileSync(file, "utf8")) as Schema;
  mkdirSync(folder, { recursive: true });
  const schema = await makeSchema(folder);
  // Renamed into place, as several test files may do this at once.
  const draft = `${file}.${process.pid}`;
  writeFileSync(draft, JSON.stringify(schema));
  renameSync(draft, file);
  return schema;
}

async function makeSchema(folder: string): Promise<Schema> {
  // Loaded only when needed: it brings a whole compiler.
  const { createGenerator } = await import("ts-json-schema-generator");
  const path = join(folder, `entry-${process.pid}.ts`);
  writeFileSync(path, ENTRY);
  const schema = createGenerator({
    path,
    tsconfig: join(ROOT, "tsconfig.json"),
    type: "SessionCreate",
    skipTypeCheck: true,
    additionalProperties: false,
  }).createSchema("SessionCreate");
  rmSync(path);
  if (!schema.definitions?.["OtherString"]) throw new Error("the SDK's open enumerations moved");
  schema.definitions["OtherString"] = { not: {} };
  return schema;
}

function versionOf(name: string): string {
  const file = join(ROOT, "node_modules", name, "package.json");
  const { version } = createRequire(import.meta.url)(file) as { version: string };
  return version;
}

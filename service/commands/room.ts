/**
 * `softset room FILE`: a product as JSON in, its orderable room as JSON out.
 */
import { type Product, ingredientsOf } from "#core/compose/product.ts";
import { type Finding, sayFinding } from "#core/finding.ts";
import { type Picture, openPicture } from "#core/order/room/picture.ts";
import { type RoomReport, openRoom } from "#core/order/room/room.ts";
import { type Tariff, makeTariff } from "#core/price/tariff.ts";
import { ingredientById } from "#data/library.ts";
import * as z from "zod";
import { Refusal } from "../problem.ts";
import { FirmnessLawShape, PricePolicyShape, ProductShape } from "../shapes.ts";
import { pointersOf } from "../typed/pointers.ts";
import { nameOfIngredient, readJson } from "./blend-file.ts";
import { jsonText } from "./json-text.ts";

/** More than this and the answer takes minutes. */
const DRAWS_MOST = 200_000;
const CELLS_MOST = 100;
/** Blends judged between two looks at whether all is done. */
const SLICE = 1000;

const RequestShape = z.strictObject({
  product: ProductShape,
  pricePolicy: PricePolicyShape.exactOptional(),
  costs: z
    .record(z.string(), z.strictObject({ packMinor: z.int().min(0), packMg: z.int().positive() }))
    .default({}),
  law: FirmnessLawShape.exactOptional(),
  seed: z.int().default(1),
  draws: z.int().min(1).max(DRAWS_MOST).exactOptional(),
  picture: z
    .strictObject({
      base: z.string(),
      across: z.string(),
      up: z.string(),
      oils: z.record(z.string(), z.string()).exactOptional(),
      cells: z.int().min(2).max(CELLS_MOST).exactOptional(),
    })
    .exactOptional(),
});

type RoomInput = z.infer<typeof RequestShape>;

/**
 * Survey the room of the product in a file.
 * @param rest one file name, or "-" for standard input
 * @returns the report as JSON text, with findings that say why a jar has no tariff
 * @throws Refusal when the file cannot be read or does not describe a product and, if asked for, a picture of it
 */
export async function roomCommand(rest: readonly string[]): Promise<string> {
  const input = readProduct(readJson("room", rest));
  const { tariffs, findings } = tariffsOf(input);
  const room = survey(input, tariffs);
  const picture = input.picture ? draw(input, input.picture) : undefined;
  const sentences = findings.map((found) => ({
    ...found,
    sentence: sayFinding(found, nameOfIngredient),
  }));
  return jsonText({ ...room, ...(picture ? { picture } : {}), findings: sentences });
}

function survey(input: RoomInput, tariffs: Record<string, Tariff> | undefined): RoomReport {
  const { product, seed, draws, law } = input;
  const work = openRoom(
    product,
    { ingredientOf: ingredientById, ...(law ? { law } : {}) },
    { seed, ...(draws ? { draws } : {}), ...(tariffs ? { tariffs } : {}) },
  );
  while (!work.step(SLICE));
  return work.result();
}

function draw(
  { product, seed, law }: RoomInput,
  asked: NonNullable<RoomInput["picture"]>,
): Picture {
  try {
    const ground = { ingredientOf: ingredientById, ...(law ? { law } : {}) };
    const work = openPicture(product, ground, { ...asked, seed });
    while (!work.step(SLICE));
    return work.result();
  } catch (cause) {
    if (!(cause instanceof RangeError)) throw cause;
    const detail = `The picture cannot be drawn: ${cause.message}.`;
    throw new Refusal("request.body.invalid", detail, { cause });
  }
}

/** Tariffs of the jars that have all they need; none without a price policy. */
function tariffsOf({ product, pricePolicy, costs }: RoomInput) {
  if (!pricePolicy) return { tariffs: undefined, findings: [] };
  const tariffs: Record<string, Tariff> = {};
  const findings: Finding[] = [];
  for (const jar of product.jars) {
    const made = makeTariff(pricePolicy, jar, costs, ingredientsOf(product));
    if ("tariff" in made) tariffs[jar.id] = made.tariff;
    else findings.push(...made.findings);
  }
  const once = new Map(findings.map((found) => [`${found.code} ${found.subject}`, found]));
  return { tariffs, findings: [...once.values()] };
}

function readProduct(json: unknown): RoomInput {
  const parsed = RequestShape.safeParse(json);
  if (!parsed.success) {
    const errors = pointersOf(parsed.error);
    const detail = "The input lacks something or holds something extra.";
    throw new Refusal("request.body.invalid", detail, { errors });
  }
  refuseUnknown(parsed.data.product);
  return parsed.data;
}

function refuseUnknown(product: Product): void {
  const unknown = ingredientsOf(product).filter((id) => !ingredientById(id));
  if (unknown.length === 0) return;
  const detail = `The library does not hold ${unknown.join(", ")}.`;
  throw new Refusal("request.body.invalid", detail);
}

/**
 * What a shop's test jars say: the law learned from them, how it does, and what it makes of the shop's bases.
 */
import { type Blend, WHOLE } from "#core/blend.ts";
import { composeBlend } from "#core/compose/compose.ts";
import { type Base, type Product, startingChoice } from "#core/compose/product.ts";
import type { FirmnessLaw } from "#core/judge/firmness.ts";
import { type Judgement, judgeBlend } from "#core/judge/verdict.ts";
import { ingredientById } from "#data/library.ts";
import type { Shop } from "../ports.ts";
import { ProductShape } from "../shapes.ts";
import type { LawInForce } from "../storage/kitchen-laws.ts";
import { type ReadJar, readJar } from "./evidence.ts";
import { type Evidence, type Learned, learnLaw } from "./learn.ts";
import { type ClassErrors, leaveOneOut } from "./leave-one-out.ts";

/** With fewer jars a kitchen has not told enough to be judged by. */
export const JARS_LEAST = 3;

/** Older jars are kept, and no longer learned from: a kitchen changes. */
export const JARS_MOST = 120;

/** More bases than this are not laid out by both laws on one page. */
export const BASES_MOST = 40;

/** A jar is like a blend when at most this share of it would have to change hands. Own choice. */
const ALIKE_WITHIN = 0.2 * WHOLE;

export interface Kitchen {
  readonly jars: readonly ReadJar[];
  readonly learned: Learned;
  /** Whether the law can be judged by, and if not, why. */
  readonly fit: { readonly ok: true } | { readonly ok: false; readonly because: string };
  readonly errors: ClassErrors;
  readonly bases: readonly BaseByLaws[];
  readonly inForce: LawInForce;
}

export interface BaseByLaws {
  readonly product: Product;
  readonly base: Base;
  readonly published: Judgement;
  readonly own: Judgement;
  /** Jars learned from that are like this base. */
  readonly alike: number;
}

/** Read the jars of a shop and learn from them. */
export async function openKitchen(shop: Shop, shopId: string): Promise<Kitchen> {
  const [rows, products, inForce] = await Promise.all([
    shop.testJars.latest(shopId, JARS_MOST),
    productsOf(shop, shopId),
    shop.kitchenLaws.inForce(shopId),
  ]);
  const jars = rows.map(readJar);
  const used = jars.filter(isUsed);
  const evidence = used.map((jar) => jar.evidence);
  const learned = learnLaw(evidence);
  return {
    jars,
    learned,
    fit: fitness(used.length, learned.law),
    errors: leaveOneOut(evidence),
    bases: used.length === 0 ? [] : basesByLaws(basesOf(products), learned.law, used),
    inForce,
  };
}

/** The products of a shop that are for sale. */
export async function productsOf(shop: Shop, shopId: string): Promise<Product[]> {
  const rows = await shop.shops.published(shopId);
  return rows.map((row) => ProductShape.parse(JSON.parse(row.product)));
}

/** The blend of a base as the maker left it; nothing when it makes none. */
export function blendOfBase(product: Product, base: Base): Blend | undefined {
  const composed = composeBlend(product, startingChoice(base), ingredientById);
  return "blend" in composed ? composed.blend : undefined;
}

function isUsed(jar: ReadJar): jar is ReadJar & { evidence: Evidence; blend: Blend } {
  return jar.evidence !== undefined && jar.leftOut === undefined;
}

/** Beyond these ends no published fat lies: the jars then contradict one another, or were misread. */
const SOLIDS_EXPONENT = { least: 0.8, greatest: 8 };

function fitness(jars: number, { solidsExponent, airExponent }: FirmnessLaw): Kitchen["fit"] {
  if (jars < JARS_LEAST) {
    const because = `Softset learns from ${JARS_LEAST} jars or more; there are ${jars} so far.`;
    return { ok: false, because };
  }
  const { least, greatest } = SOLIDS_EXPONENT;
  if (solidsExponent < least || solidsExponent > greatest || airExponent < 0) {
    const because = "These jars contradict one another: look for one that was misread.";
    return { ok: false, because };
  }
  return { ok: true };
}

/** The first bases of what is for sale; the page says when there are more. */
function basesOf(products: readonly Product[]) {
  return products
    .flatMap((product) => product.bases.map((base) => ({ product, base })))
    .slice(0, BASES_MOST);
}

function basesByLaws(
  bases: ReturnType<typeof basesOf>,
  law: FirmnessLaw,
  used: readonly { readonly blend: Blend }[],
): BaseByLaws[] {
  return bases.flatMap(({ product, base }) => {
    const blend = blendOfBase(product, base);
    if (!blend) return [];
    const { useCelsius, airFraction, rules } = product;
    const question = { celsius: [], useCelsius, airFraction, rules };
    return {
      product,
      base,
      published: judgeBlend(blend, question),
      own: judgeBlend(blend, { ...question, law }),
      alike: used.filter((jar) => shareMoved(jar.blend, blend) <= ALIKE_WITHIN).length,
    };
  });
}

/** Share that has to change hands to make one blend the other [hundredths of a percent]. */
function shareMoved(one: Blend, other: Blend): number {
  const shares = new Map(one.parts.map(({ ingredient, share }) => [ingredient.id, share]));
  for (const { ingredient, share } of other.parts) {
    shares.set(ingredient.id, (shares.get(ingredient.id) ?? 0) - share);
  }
  return [...shares.values()].reduce((sum, share) => sum + Math.abs(share), 0) / 2;
}

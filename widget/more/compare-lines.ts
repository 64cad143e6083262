/**
 * What two blends are compared by, each as words for either side. Pure.
 */
import { nameFamily } from "#core/words/words.ts";
import { sayClasses, sayHolds } from "../sayings.ts";
import { type Scene, nameOf } from "../scene.ts";
import type { MoreGround } from "./ground.ts";

export interface Line {
  readonly what: string;
  readonly now: string;
  readonly other: string;
}

/** Shares of every ingredient that is in either, then what the blend is like, then the price. */
export function compareLines(ground: MoreGround, now: Scene, other: Scene): Line[] {
  return [...shareLines(ground, now, other), ...figureLines(ground, now, other)];
}

function shareLines({ offer, language, words }: MoreGround, now: Scene, other: Scene): Line[] {
  const sides = [now, other].map(
    ({ blend }) => new Map(blend?.parts.map(({ ingredient, share }) => [ingredient.id, share])),
  );
  const ids = new Set(sides.flatMap((shares) => [...shares.keys()]));
  return [...ids].map((id) => {
    const [first, second] = sides.map((shares) => {
      const share = shares.get(id);
      return share === undefined ? words.compare.absent() : language.percent(share);
    });
    return { what: nameOf(offer, id), now: first!, other: second! };
  });
}

function figureLines(ground: MoreGround, now: Scene, other: Scene): Line[] {
  const { words, language, offer } = ground;
  const { compare } = words;
  const warmth = language.degrees(offer.product.useCelsius);
  const lines: [string, (scene: Scene) => string][] = [
    [compare.verdict(), ({ verdict }) => language.words.verdict[verdict]()],
    [compare.firmness({ warmth }), ({ judgement }) => sayClasses(judgement, language)],
    [compare.holds(), ({ judgement }) => sayHolds(judgement, language)],
    [compare.pores(), ({ judgement }) => rating(ground, judgement?.poreRating.highest?.value)],
    [compare.oil(), (scene) => sayOil(ground, scene)],
    [compare.families(), (scene) => sayFamilies(ground, scene)],
    [compare.price(), ({ price }) => (price ? language.money(price.jarMinor) : "")],
  ];
  return lines.map(([what, tell]) => ({
    what,
    now: tell(now) || compare.unknown(),
    other: tell(other) || compare.unknown(),
  }));
}

function rating({ language }: MoreGround, value: number | undefined): string {
  return value === undefined ? "" : language.number(value, 1);
}

function sayOil({ words }: MoreGround, { judgement }: Scene): string {
  const step = judgement?.oilPhase?.step;
  return step ? words.compare[step]() : "";
}

function sayFamilies({ words, language }: MoreGround, { blend }: Scene): string {
  if (!blend) return "";
  const held = new Set(blend.parts.flatMap(({ ingredient }) => ingredient.allergenFamilies));
  const named = [...held].map((family) => nameFamily(family, language));
  return named.join(", ") || words.compare.noFamilies();
}

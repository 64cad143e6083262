/**
 * What the first script hands over, and the words that come on top: all that a view of this script needs.
 */
import type { WishNames } from "#core/order/wishes-words.ts";
import type { ProductOffer } from "#core/wire.ts";
import type { Language } from "../language.ts";
import { type Scene, nameOf } from "../scene.ts";
import type { Act, ComposerState } from "../state.ts";
import type { MoreCatalogue } from "./words.ts";

export interface MoreHost {
  /** Address of the service. */
  readonly service: string;
  readonly offer: ProductOffer;
  readonly language: Language;
  readonly doAct: (act: Act) => void;
  /** Judges and prices, by the core that the first script holds. */
  readonly readScene: (state: ComposerState) => Scene;
}

export interface MoreGround extends MoreHost, MoreCatalogue {}

/** One of the panels; shown whenever the scene is another and the panel is open. */
export interface Panel {
  readonly node: HTMLElement;
  show(scene: Scene): void;
}

/** Ingredients and figures as sentences about wishes need them. */
export function wishNames({ offer, language, wishes }: MoreGround): WishNames {
  const { money, percent } = language;
  return {
    nameOf: (id) => nameOf(offer, id),
    money,
    percent,
    speech: { ...language, wishes },
  };
}

/**
 * A blend: ingredients with exact shares.
 *
 * A share is an integer number of hundredths of a percent by mass, and the shares of a blend sum to 10 000. Floating
 * point never holds a share, so "sums to the whole" is a fact and not a tolerance.
 */
import { type Finding, finding } from "./finding.ts";
import type { Ingredient } from "./ingredient.ts";

/** The whole, in hundredths of a percent. */
export const WHOLE = 10_000;

/** More parts than this is no recipe but an attack or a mistake. */
export const PARTS_GREATEST = 40;

export interface Part {
  readonly ingredient: Ingredient;
  /** Mass fraction [hundredths of a percent], an integer from 0 to 10 000 */
  readonly share: number;
}

export interface Blend {
  readonly parts: readonly Part[];
}

/**
 * Make a blend, merging parts of the same ingredient and leaving out empty ones.
 * @param parts ingredients with shares [hundredths of a percent]
 * @returns the blend, or the findings that stand against it
 */
export function makeBlend(
  parts: readonly Part[],
): { readonly blend: Blend } | { readonly findings: readonly Finding[] } {
  if (parts.length > PARTS_GREATEST) {
    return {
      findings: [
        finding("compose.blend.too-many-parts", "blend", {
          measured: parts.length,
          limit: PARTS_GREATEST,
        }),
      ],
    };
  }
  if (parts.length === 0) return { findings: [finding("compose.blend.empty", "blend")] };
  const findings = parts
    .filter(({ share }) => !Number.isInteger(share) || share < 0 || share > WHOLE)
    .map(({ ingredient, share }) =>
      finding("compose.share.not-a-share", ingredient.id, { measured: share, limit: WHOLE }),
    );
  if (findings.length > 0) return { findings };
  const sum = parts.reduce((total, { share }) => total + share, 0);
  if (sum !== WHOLE) {
    return {
      findings: [
        finding("compose.shares.not-whole", "blend", {
          measured: sum / 100,
          limit: WHOLE / 100,
          unit: "%",
        }),
      ],
    };
  }
  const merged = new Map<string, Part>();
  for (const part of parts) {
    if (part.share === 0) continue;
    const before = merged.get(part.ingredient.id);
    merged.set(part.ingredient.id, {
      ingredient: part.ingredient,
      share: (before?.share ?? 0) + part.share,
    });
  }
  return { blend: { parts: [...merged.values()] } };
}

/**
 * A share from percent.
 * @param percent percent by mass, at most two decimals
 * @returns hundredths of a percent; nothing when the figure is finer than that, negative or no number
 */
export function shareFromPercent(percent: number): number | undefined {
  if (!Number.isFinite(percent) || percent < 0 || percent > 100) return undefined;
  const share = Math.round(percent * 100);
  return Math.abs(share - percent * 100) < 1e-6 ? share : undefined;
}

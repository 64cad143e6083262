/**
 * Melting point and heat of fusion of a pure triacylglycerol, estimated from its three chains.
 *
 * Method: the correlation of L. H. Wesdorp (thesis, TU Delft, 1990), with the parameter set republished by
 * Moorthy et al., JAOCS 2016/17 (doi 10.1007/s11746-016-2935-1). With n carbons, x the middle chain less the
 * shorter outer chain, y the longer outer less the shorter:
 *   dH = h n + h0 + hxy f(x, y) + hodd [odd] + hO n_O + hJ (n_L + n_Ln),  f = 2 - exp(-((x-x0)/k)^2) - exp(-(y/k)^2)
 *   Tm = Tinf (1 + A/n - A B/n^2),  Tinf = 401.15 K
 * Pairs of unsaturated chains count as n(n-1)/2: read that way OOO gives 6.3 C (5 C measured), read as n-1 it
 * gives -1.3 C.
 * Holds for: C8 to C22 chains. Mean error of beta melting points 1.6 K over 29 species. The published sets for alpha
 * and beta-prime are left out: they are poor for linoleic species, and nothing here needs them.
 */
import type { FattyAcid } from "./fatty-acid.ts";
import type { Triacylglycerol } from "./triacylglycerol.ts";

export interface PureFat {
  /** [K] */
  readonly meltingK: number;
  /** Heat of fusion [J/mol] */
  readonly fusionJPerMol: number;
}

/** 0 C [K] */
export const ZERO_C = 273.15;
const T_INFINITE_K = 401.15;

/**
 * Estimate the beta form of a pure triacylglycerol.
 * @param tag species
 * @returns melting point [K] and heat of fusion [J/mol]; the heat may be negative for very unsaturated species,
 *   which only says that they do not crystallise here
 */
export function estimatePureFat(tag: Triacylglycerol): PureFat {
  const n = tag.carbons;
  const chains = [tag.outer[0], tag.middle, tag.outer[1]] as const;
  const shortest = Math.min(tag.outer[0].carbons, tag.outer[1].carbons);
  const longest = Math.max(tag.outer[0].carbons, tag.outer[1].carbons);
  const x = tag.middle.carbons - shortest;
  const y = longest - shortest;
  const odd = chains.some((acid) => acid.carbons % 2 === 1) ? 1 : 0;
  const nO = count(chains, 1);
  const nJ = count(chains, 2);
  const nN = count(chains, 3) + count(chains, 4);

  const mismatch = 2 - Math.exp(-(((x - 0.77) / 2.88) ** 2)) - Math.exp(-((y / 2.88) ** 2));
  const fusionKJ = 3.89 * n - 17.16 - 22.29 * mismatch + 2.29 * odd - 30.2 * nO - 37.7 * (nJ + nN);
  const a =
    -8.0481 -
    0.019 * odd +
    (0.07413 * x - 0.0348596 * x * x + 0.0077142 * x * y - 0.404136 * y + 0.0111938 * y * y) -
    (2.93 * nO + 4.69 * nJ + 5.18 * nN) +
    (0.89 * pairs(nO) + 1.21 * pairs(nJ) + 1.38 * pairs(nN)) +
    (0.71 * nO * nJ + 0.69 * nO * nN + 0.73 * nJ * nN);
  const b =
    2.66923 +
    0.008 * odd +
    (-0.31675 * x + 0.085967 * x * x + 0.040642 * x * y + 0.5504 * y - 0.000945 * y * y) -
    (3.7 * nO + 1.5 * nJ + 1.8 * nN);

  return {
    meltingK: T_INFINITE_K * (1 + a / n - (a * b) / (n * n)),
    fusionJPerMol: fusionKJ * 1000,
  };
}

function count(chains: readonly FattyAcid[], doubleBonds: number): number {
  return chains.filter((acid) => acid.doubleBonds === doubleBonds).length;
}

function pairs(n: number): number {
  return (n * (n - 1)) / 2;
}

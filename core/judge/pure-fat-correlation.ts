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
 * Holds for: C8 to C22 chains. Mean error of beta melting points 1.6 K over 29 species. Alpha and beta-prime of
 * linoleic species are poor and must not be used.
 */
import type { FattyAcid } from "./fatty-acid.ts";
import type { Triacylglycerol } from "./triacylglycerol.ts";

export type Polymorph = "alpha" | "betaPrime" | "beta";

export interface PureFat {
  /** [K] */
  readonly meltingK: number;
  /** Heat of fusion [J/mol] */
  readonly fusionJPerMol: number;
}

const T_INFINITE_K = 401.15;

const PARAMETERS = {
  alpha: {
    h: 2.7,
    h0: -31.95,
    hxy: -13.28,
    k: 4.39,
    x0: 1.25,
    hodd: 0,
    hO: -31.7,
    hJ: -37.7,
    A0: -9.0581,
    Ax: 0.0029,
    Ax2: -0.0619116,
    Axy: 0.115128,
    Ay: -0.453461,
    Ay2: -0.005827,
    Aodd: -0.196,
    AO: -3.46,
    AJ: -3.35,
    AN: -4.2,
    AOO: -0.01,
    AJJ: -3.68,
    ANN: -0.98,
    AOJ: 0.53,
    AON: 0.83,
    AJN: -2.97,
    B0: -4.4841,
    Bx: -0.00111,
    Bx2: 0.148938,
    Bxy: -0.365917,
    By: 1.41154,
    By2: -0.001766,
    Bodd: -0.003,
    BO: 0,
    BJ: 5.4,
    BN: 2.6,
  },
  betaPrime: {
    h: 3.86,
    h0: -35.86,
    hxy: -19.35,
    k: 1.99,
    x0: 2.46,
    hodd: 0,
    hO: -28.3,
    hJ: -37.7,
    A0: -8.4543,
    Ax: -0.1036,
    Ax2: -0.018881,
    Axy: 0.0739411,
    Ay: -0.49721,
    Ay2: 0.0115995,
    Aodd: -0.308,
    AO: -2.2,
    AJ: -2.51,
    AN: -2.23,
    AOO: 0.27,
    AJJ: 0.55,
    ANN: 1.51,
    AOJ: -1,
    AON: 0.76,
    AJN: 1.12,
    B0: -0.26501,
    Bx: 0.54997,
    Bx2: 0.074136,
    Bxy: -0.340928,
    By: 2.34238,
    By2: -0.135735,
    Bodd: 0.005,
    BO: -4.3,
    BJ: -7.8,
    BN: -13.7,
  },
  beta: {
    h: 3.89,
    h0: -17.16,
    hxy: -22.29,
    k: 2.88,
    x0: 0.77,
    hodd: 2.29,
    hO: -30.2,
    hJ: -37.7,
    A0: -8.0481,
    Ax: 0.07413,
    Ax2: -0.0348596,
    Axy: 0.0077142,
    Ay: -0.404136,
    Ay2: 0.0111938,
    Aodd: -0.019,
    AO: -2.93,
    AJ: -4.69,
    AN: -5.18,
    AOO: 0.89,
    AJJ: 1.21,
    ANN: 1.38,
    AOJ: 0.71,
    AON: 0.69,
    AJN: 0.73,
    B0: 2.66923,
    Bx: -0.31675,
    Bx2: 0.085967,
    Bxy: 0.040642,
    By: 0.5504,
    By2: -0.000945,
    Bodd: 0.008,
    BO: -3.7,
    BJ: -1.5,
    BN: -1.8,
  },
} as const;

/**
 * Estimate a pure triacylglycerol.
 * @param tag species
 * @param polymorph crystal form
 * @returns melting point [K] and heat of fusion [J/mol]; the heat may be negative for very unsaturated species,
 *   which only says that they do not crystallise here
 */
export function estimatePureFat(tag: Triacylglycerol, polymorph: Polymorph): PureFat {
  const p = PARAMETERS[polymorph];
  const n = tag.carbons;
  const shortest = Math.min(tag.outer[0].carbons, tag.outer[1].carbons);
  const longest = Math.max(tag.outer[0].carbons, tag.outer[1].carbons);
  const x = tag.middle.carbons - shortest;
  const y = longest - shortest;
  const chains = [tag.outer[0], tag.middle, tag.outer[1]];
  const odd = chains.some((acid) => acid.carbons % 2 === 1) ? 1 : 0;
  const nO = count(chains, 1);
  const nJ = count(chains, 2);
  const nN = count(chains, 3) + count(chains, 4);

  const mismatch = 2 - Math.exp(-(((x - p.x0) / p.k) ** 2)) - Math.exp(-((y / p.k) ** 2));
  const fusionKJ = p.h * n + p.h0 + p.hxy * mismatch + p.hodd * odd + p.hO * nO + p.hJ * (nJ + nN);

  const a =
    p.A0 +
    p.Aodd * odd +
    (p.Ax * x + p.Ax2 * x * x + p.Axy * x * y + p.Ay * y + p.Ay2 * y * y) +
    (p.AO * nO + p.AJ * nJ + p.AN * nN) +
    (p.AOO * pairs(nO) + p.AJJ * pairs(nJ) + p.ANN * pairs(nN)) +
    (p.AOJ * nO * nJ + p.AON * nO * nN + p.AJN * nJ * nN);
  const b =
    p.B0 +
    p.Bodd * odd +
    (p.Bx * x + p.Bx2 * x * x + p.Bxy * x * y + p.By * y + p.By2 * y * y) +
    (p.BO * nO + p.BJ * nJ + p.BN * nN);

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

/**
 * Measured melting points and heats of fusion that replace the correlation where they are known.
 *
 * Every value here is from memory of the compilations named beside it (Hagemann 1988, Small 1986, Wesdorp 1990;
 * Sato et al. 1989, Arishima et al. 1991 as tabulated in Sato 2001, Chem Eng Sci 56:2255; Kodali 1987; Minato
 * 1996/97). They matter: with the correlation alone cocoa butter at 30 C comes out 65 % solid, with these 40 %
 * (recalled 45). Celsius, kJ/mol. `estimate` marks a value interpolated by us.
 */
interface Measured {
  /** The most stable form: beta-1 where there are two. */
  readonly beta: readonly [meltingC: number, fusionKJ: number];
  /** The beta form that sets within days (form V of cocoa butter); beta-1 (form VI) takes months. */
  readonly beta2?: readonly [meltingC: number, fusionKJ: number];
  readonly betaPrime?: readonly [meltingC: number, fusionKJ: number];
}

export const MEASURED_PURE_FATS: Readonly<Record<string, Measured>> = {
  // Trisaturated: Hagemann / Small / Wesdorp compilations.
  PPP: { beta: [65.9, 171.3] },
  SSS: { beta: [72.5, 194.2] },
  PPS: { beta: [62.6, 166] },
  PSP: { beta: [65.3, 174] },
  PSS: { beta: [64.8, 173] },
  SPS: { beta: [68.2, 172] },
  // Saturated-unsaturated-saturated: Sato group.
  POP: { beta: [36.7, 130], beta2: [35.1, 124.4], betaPrime: [33.5, 98.3] },
  POS: { beta: [37, 140], betaPrime: [33, 100] }, // beta 35.5 to 38.2; beta-prime is an estimate
  SOS: { beta: [43, 151], beta2: [41, 143], betaPrime: [36.5, 104.8] },
  SOA: { beta: [42.5, 155] }, // 41 to 45
  POA: { beta: [37, 145] }, // estimate, by analogy with POS and SOA
  AOA: { beta: [46, 160] }, // 45 to 48.9
  BOB: { beta: [53, 173], beta2: [50.7, 164] }, // heats: the correlation, and 0.95 of it as for SOS
  PLP: { beta: [27.1, 118] },
  PLS: { beta: [29.5, 120] },
  SLS: { beta: [33.2, 130] },
  // Asymmetric disaturated: Minato 1996/97 and others, low confidence.
  PPO: { beta: [34.8, 125] },
  PSO: { beta: [37, 130] },
  SPO: { beta: [40, 130] },
  SSO: { beta: [41.5, 145] },
  // Monosaturated: Kodali 1987 type data.
  OPO: { beta: [21.5, 120] },
  OSO: { beta: [24.5, 130] },
  POO: { beta: [19, 113], betaPrime: [2.5, 95] }, // beta-prime heat from the correlation
  SOO: { beta: [23.5, 120], betaPrime: [8.6, 100.8] }, // beta-prime heat from the correlation
  PLO: { beta: [-3, 95] },
  SLO: { beta: [6, 105] },
  // Triunsaturated.
  OOO: { beta: [5, 100] },
  OOL: { beta: [-7, 90] },
  OLL: { beta: [-10, 86] },
  LLL: { beta: [-13, 80] },
  LnLnLn: { beta: [-24.2, 78] },
};

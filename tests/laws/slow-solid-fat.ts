/**
 * The same equilibrium as `core/judge/solid-fat.ts`, solved the slow way to check the quick one: bisection twice over,
 * no derivative, no shared arithmetic. Written from the equations alone.
 */
import type { FatState, Melt } from "#core/judge/melt.ts";

export function slowSolidFatPercent(melt: Melt, state: FatState, celsius: number): number {
  const kelvin = celsius + 273.15;
  const crystals = melt[state];
  const species = melt.species.map((each, i) => ({
    moles: melt.moles[i]!,
    molarMass: melt.molarMass[i]!,
    lauric: each.lauric,
    k: Math.exp(crystals.heat[i]! / kelvin - crystals.heat[i]! / crystals.meltingK[i]!),
    /** Only a species that has such a crystal, below its melting point, can be solid by itself. */
    sets: crystals.meltingK[i]! > kelvin,
  }));
  const lauric = species.filter(({ lauric }) => lauric);

  const liquidOf = (liquid: number): number[] => {
    const theta = thetaFor(lauric, liquid);
    return species.map((each) => {
      if (each.lauric) return each.moles / (1 + theta * each.k);
      return each.sets ? Math.min(each.moles, liquid / each.k) : each.moles;
    });
  };
  const sum = (numbers: readonly number[]) => numbers.reduce((total, next) => total + next, 0);
  const tooMuch = (liquid: number) => melt.liquidMoles + sum(liquidOf(liquid)) < liquid;

  const all = melt.liquidMoles + sum(species.map(({ moles }) => moles));
  let low = 0;
  let high = all;
  if (!tooMuch(all * (1 - 1e-15))) low = all;
  for (let step = 0; step < 200; step++) {
    const middle = (low + high) / 2;
    if (tooMuch(middle)) high = middle;
    else low = middle;
  }
  const liquid = liquidOf(low);
  const grams = melt.liquidG + sum(species.map(({ molarMass }, i) => molarMass * liquid[i]!));
  return Math.min(100, Math.max(0, 100 * (1 - grams)));
}

/** How far the lauric solid solution draws on its species; 0 when it has not formed. */
function thetaFor(lauric: readonly { moles: number; k: number }[], liquid: number): number {
  const pull = (theta: number) =>
    lauric.reduce((total, { moles, k }) => total + (k * moles) / (1 + theta * k), 0);
  if (pull(0) <= liquid) return 0;
  let low = 0;
  let high = 1;
  while (pull(high) > liquid && high < 1e300) high *= 2;
  for (let step = 0; step < 200; step++) {
    const middle = (low + high) / 2;
    if (pull(middle) > liquid) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

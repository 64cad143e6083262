/**
 * May the jar turn grainy? Fat rich in SOS and its like grows large beta grains when it cools slowly, or softens in
 * the warm and sets again. How the maker cools it decides; the blend only says whether there is something to grow.
 */
import { type Finding, finding } from "../finding.ts";
import type { Melt } from "./melt.ts";
import type { Species } from "./species.ts";
import { parseTriacylglycerol } from "./triacylglycerol.ts";

/** Share of the fat in such species from which it is said. Own choice [% by mass]. */
export const GRAINY_SPECIES_PERCENT = 5;

/**
 * Share of the fat whose species are stearic or longer on both ends with one unsaturated acid between them (SOS, SOA,
 * SLS): the ones that grow large beta grains [% by mass].
 */
export function grainySpeciesPercent(melt: Melt): number {
  let grams = 0;
  for (const [at, species] of melt.species.entries()) {
    if (growsGrains(species)) grams += melt.moles[at]! * melt.molarMass[at]!;
  }
  return 100 * grams;
}

/** Told and no more: whether grain grows is in the maker's hands, not in the blend's. */
export function grainFindings(melt: Melt): Finding[] {
  const percent = grainySpeciesPercent(melt);
  if (percent < GRAINY_SPECIES_PERCENT) return [];
  const figures = { measured: Math.round(percent), limit: GRAINY_SPECIES_PERCENT, unit: "%" };
  return [finding("judge.grain.possible", "blend", figures)];
}

/** Each species is looked at once: its name has to be read letter by letter. */
const known = new WeakMap<Species, boolean>();

function growsGrains(species: Species): boolean {
  let grows = known.get(species);
  if (grows === undefined) {
    const tag = parseTriacylglycerol(species.name);
    const long = tag?.outer.every((acid) => acid.doubleBonds === 0 && acid.carbons >= 18);
    grows = tag !== undefined && long === true && tag.middle.doubleBonds > 0;
    known.set(species, grows);
  }
  return grows;
}

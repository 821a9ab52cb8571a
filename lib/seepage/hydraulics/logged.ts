import type { Borehole, CrossSection } from "../../survey/survey.js";
import { isCoarse } from "../pervious-threshold.js";

/** A thickness as seen at one place along the bank. */
export interface ThicknessSeen {
  readonly chainage_m: number;
  readonly thickness_m: number;
  /** Standard deviation of its logarithm, and of the part that all of the same line share. */
  readonly lnSd: number;
  readonly sharedLnSd?: number;
  /** Such as "BH3" or "line toe". */
  readonly from: string;
}

/** What the strata under the bank's base show. */
export interface LoggedStrata {
  readonly blanket: readonly ThicknessSeen[];
  readonly aquifer: readonly ThicknessSeen[];
}

/** From the crest, or wherever it stands, a hole tells of the toe's strata to about so much. */
const HOLE_LN_SD = 0.15;
/** A blanket that is not there is taken as this thin. */
const NONE_M = 0.2;

/**
 * The blanket, from the base of the bank down to the first coarse stratum, and the coarse ground
 * under it, in each hole. What a hole ends in is thicker than it shows, and left out.
 */
export function loggedStrata(
  boreholes: readonly Borehole[],
  crossSectionAt: (chainage_m: number) => CrossSection,
): LoggedStrata {
  const seen = boreholes.flatMap((hole) => {
    const { foundationElevation_m: foot_m } = crossSectionAt(hole.chainage_m);
    if (foot_m === null || hole.strata.length === 0) return [];
    return [{ hole, ...underBase(hole, Math.max(0, hole.elevation_m - foot_m)) }];
  });
  const at = (hole: Borehole, thickness_m: number): ThicknessSeen => {
    const { borehole: from, chainage_m } = hole;
    return { chainage_m, thickness_m: Math.max(thickness_m, NONE_M), lnSd: HOLE_LN_SD, from };
  };
  return {
    blanket: seen.flatMap(({ hole, blanket_m }) =>
      blanket_m === null ? [] : [at(hole, blanket_m)],
    ),
    aquifer: seen.flatMap(({ hole, aquifer_m }) =>
      aquifer_m === null ? [] : [at(hole, aquifer_m)],
    ),
  };
}

function underBase({ strata }: Borehole, base_m: number) {
  const below = strata
    .filter((stratum) => stratum.base_m > base_m)
    .toSorted((one, other) => one.top_m - other.top_m);
  const sand = below.findIndex(({ soil }) => isCoarse(soil));
  const top_m = below[sand]?.top_m;
  if (top_m === undefined) return { blanket_m: null, aquifer_m: null };
  const under = below.slice(sand).find(({ soil }) => !isCoarse(soil));
  const from_m = Math.max(top_m, base_m);
  return {
    blanket_m: from_m - base_m,
    aquifer_m: under === undefined ? null : under.top_m - from_m,
  };
}

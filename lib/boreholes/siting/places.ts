import type { Survey } from "../../survey/survey.js";
import type { SitingInput } from "./input.js";
import type { SitingOptions } from "./options.js";
import type { AvoidedStretch, HolePlace } from "./plan.js";

/** A place where a hole may be drilled. */
export interface Site {
  readonly chainage_m: number;
  readonly offset_m: number;
  readonly place: HolePlace;
  readonly depth_m: number;
}

/** Stretches to keep away from, `clear_m` beyond what lies in them, by chainage. */
export function avoidedStretches(
  { survey, masked }: SitingInput,
  clear_m: number,
): readonly AvoidedStretch[] {
  const aside = masked.flatMap(({ interference, unexplained }) => [
    ...interference.map(({ from_m, to_m, object }) => ({
      ...{ from_m, to_m },
      why: object === "" ? "readings set aside, cause not noted" : `set aside: ${object}`,
    })),
    ...unexplained.map(({ from_m, to_m }) => ({ from_m, to_m, why: "readings unexplained" })),
  ]);
  const noted = survey.fieldNotes
    .filter(({ kind }) => kind === "metal" || kind === "structure")
    .filter(({ from_m, to_m }) => Number.isFinite(from_m + to_m))
    .map(({ from_m, to_m, object }) => ({ from_m, to_m, why: `noted: ${object}` }));
  const wide = [...aside, ...noted].map(({ from_m, to_m, why }) => ({
    from_m: from_m - clear_m,
    to_m: to_m + clear_m,
    why,
  }));
  return joined(wide.sort((one, other) => one.from_m - other.from_m));
}

function joined(sorted: readonly AvoidedStretch[]): readonly AvoidedStretch[] {
  const all: AvoidedStretch[] = [];
  for (const one of sorted) {
    const last = all.at(-1);
    if (last === undefined || one.from_m > last.to_m) {
      all.push(one);
      continue;
    }
    const why = last.why.includes(one.why) ? last.why : `${last.why}; ${one.why}`;
    all[all.length - 1] = { from_m: last.from_m, to_m: Math.max(last.to_m, one.to_m), why };
  }
  return all;
}

export const isAvoided = (x: number, avoided: readonly AvoidedStretch[]) =>
  avoided.some(({ from_m, to_m }) => x >= from_m && x <= to_m);

/** Height of the crest over the natural ground, m; null where the cross-section does not say. */
export function heightAt(survey: Survey, chainage_m: number): number | null {
  const { crestElevation_m, foundationElevation_m } = survey.crossSectionAt(chainage_m);
  if (crestElevation_m === null || foundationElevation_m === null) return null;
  return Math.max(0, crestElevation_m - foundationElevation_m);
}

/** Depths are asked for in steps of half a metre. */
const asDrilled = (depth_m: number) => Math.ceil(2 * depth_m - 1e-9) / 2;

/**
 * From the crest through the bank and `minDepth_m` into the natural ground, and to where slices
 * reach.
 */
export function crestSite(
  { survey, slices }: SitingInput,
  chainage_m: number,
  { minDepth_m }: Pick<SitingOptions, "minDepth_m">,
): Site {
  const through_m = (heightAt(survey, chainage_m) ?? 0) + minDepth_m;
  const depth_m = asDrilled(Math.max(through_m, slices.reliableTo_m));
  return { chainage_m, offset_m: 0, place: "crest", depth_m };
}

/** Beside the landside toe: m beyond it, for the rig's standing. */
const BEYOND_TOE_M = 1;

/**
 * At the landside toe, as deep as the bank is high and `minDepth_m` at least; null where the
 * cross-section or the water's side is not known.
 */
export function toeSite(
  { survey }: SitingInput,
  chainage_m: number,
  { minDepth_m }: Pick<SitingOptions, "minDepth_m">,
): Site | null {
  const { crestWidth_m, landsideSlope } = survey.crossSectionAt(chainage_m);
  const height_m = heightAt(survey, chainage_m);
  if (height_m === null || crestWidth_m === null || landsideSlope === null) return null;
  if (survey.waterside === null) return null;
  const away_m = crestWidth_m / 2 + landsideSlope * height_m + BEYOND_TOE_M;
  const offset_m = survey.waterside === "left" ? -away_m : away_m;
  const depth_m = asDrilled(Math.max(height_m, minDepth_m));
  return { chainage_m, offset_m, place: "landside toe", depth_m };
}

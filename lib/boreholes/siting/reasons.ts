import type { Added } from "./gain.js";
import type { Site } from "./places.js";
import type { PartName } from "./plan.js";
import type { Target } from "./targets.js";

/** Where two parts add alike, the more particular one comes first. */
const FIRST: readonly PartName[] = ["seepage", "boundary", "change", "block", "class", "soil"];

/** What a hole is for and why, from what it adds to those before it. */
export function purposeAndReason(
  site: Site,
  { soil_m, targets }: Added,
): { readonly purpose: string; readonly reason: string } {
  const all_m = targets.reduce((sum, { worth_m }) => sum + worth_m, soil_m);
  const named = targets
    .filter(({ worth_m }) => worth_m >= WORTH_NAMING * all_m)
    .sort(
      (one, other) =>
        other.worth_m - one.worth_m || FIRST.indexOf(one.part) - FIRST.indexOf(other.part),
    );
  const soil =
    soil_m >= 1
      ? [
          "Of the soil, there and where ground is alike, it tells as much as " +
            `${soil_m.toFixed(0)} m of bank seen in full.`,
        ]
      : [];
  return {
    purpose: mainTarget(named)?.purpose ?? "soil of ground like that about it",
    reason: [...named.map(({ reason }) => reason), ...soil, depthReason(site)].join(" "),
  };
}

/** What adds less than this share of a hole's gain is not named. */
const WORTH_NAMING = 0.1;

/**
 * A hole in a zone is named for it: what it looks for there decides how it is drilled and logged.
 */
function mainTarget(sorted: readonly Target[]): Target | undefined {
  return sorted.find(({ part }) => part === "seepage") ?? sorted[0];
}

const depthReason = ({ place, depth_m }: Site) =>
  place === "crest"
    ? `${depth_m.toFixed(1)} m from the crest go through the bank into the natural ground.`
    : `${depth_m.toFixed(1)} m from the toe go as deep as the bank is high, or to the least depth.`;

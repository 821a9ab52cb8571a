import { extent } from "../../numerics/statistics/present.js";
import type { Borehole, Survey } from "../../survey/survey.js";
import type { Ground } from "../soils/ground.js";
import type { SitingInput } from "./input.js";
import type { SitingOptions } from "./options.js";
import { crestSite, heightAt, isAvoided, type Site, toeSite } from "./places.js";
import type { AvoidedStretch } from "./plan.js";
import type { Target } from "./targets.js";

interface Feasible {
  readonly input: SitingInput;
  readonly ground: Ground;
  readonly targets: readonly Target[];
  readonly avoided: readonly AvoidedStretch[];
  readonly used: SitingOptions;
}

/**
 * Places along the crest, `step_m` apart and in the middle of every target, and at the landside toe
 * where a target asks for it; none in a stretch that is avoided or beyond the line's ends.
 */
export function feasibleSites(given: Feasible): readonly Site[] {
  const { input, ground, targets, used } = given;
  const middles = targets.flatMap(({ within }) =>
    within.map(({ from_m, to_m }) => (from_m + to_m) / 2),
  );
  const along = places([...ground.along(used.step_m), ...middles], given);
  const toe = along.filter((x) =>
    targets.some(
      ({ place, within }) =>
        place === "landside toe" && within.some(({ from_m, to_m }) => x >= from_m && x <= to_m),
    ),
  );
  return [
    ...along.map((x) => crestSite(input, x, used)),
    ...toe.flatMap((x) => toeSite(input, x, used) ?? []),
  ];
}

/** To the metre, rising, each once. */
function places(all: readonly number[], { input, avoided }: Feasible): readonly number[] {
  const { least, most } = extent(input.slices.chainage_m);
  const whole = new Set(all.map(Math.round));
  return [...whole]
    .filter((x) => x >= least && x <= most && !isAvoided(x, avoided))
    .sort((one, other) => one - other);
}

/** An existing borehole as a site; none where it lies neither on the crest nor beyond the slope. */
export function existingSite(survey: Survey, hole: Borehole): readonly Site[] {
  const { chainage_m, offset_m, depth_m } = hole;
  const { crestWidth_m, landsideSlope } = survey.crossSectionAt(chainage_m);
  const half_m = (crestWidth_m ?? 4) / 2 + 1;
  if (Math.abs(offset_m) <= half_m) return [{ chainage_m, offset_m, depth_m, place: "crest" }];
  const landward_m = survey.waterside === "left" ? -offset_m : offset_m;
  const slope_m = (landsideSlope ?? 2) * (heightAt(survey, chainage_m) ?? 0);
  if (survey.waterside === null || landward_m < half_m - 1 + 0.8 * slope_m) return [];
  return [{ chainage_m, offset_m, depth_m, place: "landside toe" }];
}

/**
 * As many metres at equal spacing along the crest, each hole as deep as the next, moved to the
 * nearest place that is not avoided.
 */
export function equalSites(
  input: SitingInput,
  {
    metres,
    avoided,
    used,
  }: {
    readonly metres: number;
    readonly avoided: readonly AvoidedStretch[];
    readonly used: SitingOptions;
  },
): readonly Site[] {
  const { least, most } = extent(input.slices.chainage_m);
  const usual_m = crestSite(input, (least + most) / 2, used).depth_m;
  const count = metres > 0 ? Math.max(1, Math.round(metres / usual_m)) : 0;
  return Array.from({ length: count }, (_, i) => {
    const asked = least + ((most - least) * (i + 0.5)) / count;
    const chainage_m = nearestFree(asked, avoided, { least, most });
    return { chainage_m, offset_m: 0, place: "crest", depth_m: metres / count };
  });
}

function nearestFree(
  asked: number,
  avoided: readonly AvoidedStretch[],
  { least, most }: { readonly least: number; readonly most: number },
): number {
  for (let away = 0; away <= most - least; away++) {
    for (const x of [asked - away, asked + away]) {
      if (x >= least && x <= most && !isAvoided(x, avoided)) return x;
    }
  }
  return asked;
}

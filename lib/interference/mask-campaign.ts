import { median } from "../numerics/statistics/robust.js";
import { Remembered } from "../step/remembered.js";
import type { Campaign } from "../survey/survey.js";
import { lineProfiles } from "./anomaly/line-profiles.js";
import type { Masked } from "./masked.js";
import { type Detection, detectMetal } from "./metal/detect-metal.js";
import { type ScoredProfile, scoreProfile } from "./metal/score-profile.js";
import { campaignNoise } from "./noise/campaign-noise.js";
import type { MaskOptions } from "./options.js";
import { parallelObjects } from "./parallel/parallel-objects.js";
import {
  type DisturbedStretch,
  mergeStretches,
  silentObjects,
} from "./stretches/merge-stretches.js";
import {
  type NotedObject,
  notedObjects,
  reachOfMetal,
  withinReach,
} from "./stretches/noted-objects.js";
import { setStretchesAside } from "./stretches/set-stretches-aside.js";
import { withSparedChannels } from "./stretches/spared-channels.js";

/** The masked campaign, and what its account is made from. */
export interface MaskedWork {
  readonly value: Masked;
  readonly profiles: readonly ScoredProfile[];
  readonly noted: readonly NotedObject[];
  /** Those of the noted objects that no channel shows. */
  readonly silent: readonly NotedObject[];
}

/** Scores of the campaigns that were looked at last: thresholds do not enter them. */
const scored = new Remembered<readonly ScoredProfile[]>(2);

/** Finds the disturbed stretches of a campaign and sets them aside. */
export function maskCampaign(campaign: Campaign, used: MaskOptions): MaskedWork {
  const profiles = scored.of([campaign], `${used.window_m}`, () =>
    lineProfiles(campaign).map((profile) => scoreProfile(profile, used.window_m)),
  );
  const noted = notedObjects(campaign, profiles, used);
  const reach_m = reachOfMetal(campaign, used);
  const { detections, merged, shifted } = disturbances({ profiles, noted }, used, {
    reach_m,
    ...campaign,
  });
  const applied = used.perChannel ? withSparedChannels(merged, profiles, reach_m) : merged;
  const flagged = setStretchesAside(campaign, applied, reach_m);
  const silent = silentObjects(noted, detections, reach_m);
  const value = {
    ...flagged,
    unexplained: flagged.interference
      .filter(({ cause }) => cause === "detected")
      .map(({ campaign: label, from_m, to_m, jumps }) => ({
        ...{ campaign: label, from_m, to_m },
        ...(jumps ? { jumps } : {}),
      })),
    silentNotes: silent.map(({ note: { object, from_m, to_m } }) => ({ object, from_m, to_m })),
    alongLine: shifted.map(({ from_m, to_m, score }) => ({ from_m, to_m, score })),
    noise: campaignNoise(campaign, profiles),
  };
  return { value, profiles, noted, silent };
}

interface Disturbances {
  readonly detections: readonly Detection[];
  readonly merged: readonly DisturbedStretch[];
  readonly shifted: readonly Detection[];
}

/** Single objects first; what they leave is searched for stretches that are shifted as a whole. */
function disturbances(
  { profiles, noted }: Pick<MaskedWork, "profiles" | "noted">,
  used: MaskOptions,
  where: { readonly reach_m: number } & Pick<Campaign, "crossSections">,
): Disturbances {
  const { reach_m } = where;
  const options = { ...used, reach_m };
  const single = profiles.flatMap((one) =>
    detectMetal(one, used, alongside(one, profiles, reach_m)),
  );
  const merged = mergeStretches(noted, single, options);
  if (used.alongLine === "off") return { detections: single, merged, shifted: [] };
  const shifted = parallelObjects(profiles, merged, where);
  if (used.alongLine === "say") return { detections: single, merged, shifted };
  const detections = [...single, ...shifted];
  return { detections, merged: mergeStretches(noted, detections, options), shifted };
}

/** The other walks that pass within reach aside. */
function alongside(
  one: ScoredProfile,
  profiles: readonly ScoredProfile[],
  reach_m: number,
): readonly ScoredProfile[] {
  const aside = median(one.profile.offset_m);
  return profiles.filter(
    (other) => other !== one && withinReach(aside, median(other.profile.offset_m), reach_m),
  );
}

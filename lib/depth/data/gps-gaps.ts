import { valueAt } from "../../numerics/arrays.js";
import type { Campaign, Pass } from "../../survey/survey.js";
import type { GpsGap } from "../depth-slices.js";
import { textRuns } from "./text-runs.js";

/**
 * Where a walk has readings and its GPS gave them no position: bridged by time, or left without a
 * place between two readings that have one. Gaps shorter than `least_m` are left out.
 */
export function gpsGaps(campaign: Campaign, least_m: number): readonly GpsGap[] {
  return campaign.passes
    .flatMap((pass) => [...gapsOf(pass, true), ...gapsOf(pass, false)])
    .filter(({ from_m, to_m }) => to_m - from_m >= least_m)
    .sort((one, other) => one.from_m - other.from_m || one.to_m - other.to_m);
}

/** Runs of readings with a bridged position, or with none, between two readings of one line. */
function gapsOf(pass: Pass, bridged: boolean): readonly GpsGap[] {
  const { chainage_m, positionBridged, line, resource } = pass;
  const lacks = Array.from(chainage_m, (x, i) =>
    (bridged ? positionBridged?.[i] === 1 : Number.isNaN(x)) ? "lacks" : "",
  );
  return textRuns(lacks).flatMap(({ first, last }) => {
    const ends = [first - 1, last + 1].map((i) => valueAt(chainage_m, i));
    const [from_m, to_m] = [Math.min(...ends), Math.max(...ends)];
    if (line[first - 1] !== line[last + 1] || !(to_m > from_m)) return [];
    return [{ resource, from_m, to_m, bridged }];
  });
}

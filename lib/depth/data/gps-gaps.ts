import type { Campaign, Pass } from "../../survey/survey.js";
import type { GpsGap } from "../depth-slices.js";

/**
 * Where a walk has readings and its GPS gave them no position: bridged by time, or left without a
 * place between two readings that have one. Gaps shorter than `least_m` are left out.
 */
export function gpsGaps(campaign: Campaign, least_m: number): readonly GpsGap[] {
  return campaign.passes
    .flatMap((pass) => [...runs(pass, true), ...runs(pass, false)])
    .filter(({ from_m, to_m }) => to_m - from_m >= least_m)
    .sort((one, other) => one.from_m - other.from_m || one.to_m - other.to_m);
}

/** Runs of readings with a bridged position, or of readings with none. */
function runs(pass: Pass, bridged: boolean): GpsGap[] {
  const { chainage_m, positionBridged, line, resource } = pass;
  const lacks = (i: number) =>
    bridged ? positionBridged?.[i] === 1 : Number.isNaN(chainage_m[i]!);
  const found: GpsGap[] = [];
  for (let i = 0; i < pass.count; i++) {
    if (!lacks(i)) continue;
    const first = i;
    while (i + 1 < pass.count && lacks(i + 1)) i += 1;
    const [before, after] = [first - 1, i + 1];
    if (line[before] !== line[after]) continue;
    const [a, b] = [chainage_m[before]!, chainage_m[after]!];
    if (!(Math.abs(a - b) > 0)) continue;
    found.push({ resource, from_m: Math.min(a, b), to_m: Math.max(a, b), bridged });
  }
  return found;
}

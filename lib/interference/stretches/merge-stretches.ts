import type { Detection } from "../metal/detect-metal.js";
import type { MaskOptions } from "../options.js";
import { meets, type NotedObject, withinReach } from "./noted-objects.js";

/** A stretch to set aside, before it is applied to the readings. */
export interface DisturbedStretch {
  readonly from_m: number;
  readonly to_m: number;
  readonly offset_m: number | null;
  readonly detected: boolean;
  readonly objects: readonly string[];
  readonly channels: readonly string[];
  readonly score: number;
  /** True where an object along the line shifts it as a whole; else left out. */
  readonly along?: true;
  /** True where its readings jump one by one; else left out. */
  readonly jumps?: true;
  /** Fields of the channels that stay in use; left out where none does. */
  readonly spared?: readonly string[];
}

/** The options that count here; `reach_m` is worked out. */
export interface MergeOptions extends Pick<MaskOptions, "mergeWithin_m" | "maskSilent"> {
  readonly reach_m: number;
}

/** Noted objects that neither a trace nor a detection supports, though there are readings. */
export function silentObjects(
  noted: readonly NotedObject[],
  detections: readonly Detection[],
  reach_m: number,
): readonly NotedObject[] {
  return noted.filter(
    (one) =>
      one.readings > 0 && !one.seen && !detections.some((found) => meets(one, found, reach_m)),
  );
}

/** Noted objects and detections as stretches that do not overlap, by chainage. */
export function mergeStretches(
  noted: readonly NotedObject[],
  detections: readonly Detection[],
  options: MergeOptions,
): readonly DisturbedStretch[] {
  const silent = new Set(silentObjects(noted, detections, options.reach_m));
  const stretches = [
    ...noted
      .filter((one) => one.readings > 0 && (options.maskSilent || !silent.has(one)))
      .map(notedStretch),
    ...detections.map((found): DisturbedStretch => ({ ...found, detected: true, objects: [] })),
  ];
  stretches.sort((a, b) => a.from_m - b.from_m || a.to_m - b.to_m);
  const merged: DisturbedStretch[] = [];
  for (const stretch of stretches) {
    const at = merged.findLastIndex(
      (one) =>
        stretch.from_m - one.to_m <= options.mergeWithin_m &&
        withinReach(one.offset_m, stretch.offset_m, options.reach_m),
    );
    const before = merged[at];
    if (before === undefined) merged.push(stretch);
    else merged[at] = united(before, stretch);
  }
  return merged;
}

function notedStretch({ note, from_m, to_m, channels, score, ...shown }: NotedObject) {
  const offset_m = shown.offset_m ?? note.offset_m;
  return { from_m, to_m, offset_m, detected: false, objects: [note.object], channels, score };
}

function united(one: DisturbedStretch, other: DisturbedStretch): DisturbedStretch {
  const stronger = one.score >= other.score ? one : other;
  return {
    from_m: Math.min(one.from_m, other.from_m),
    to_m: Math.max(one.to_m, other.to_m),
    offset_m: stronger.offset_m,
    detected: one.detected || other.detected,
    objects: [...new Set([...one.objects, ...other.objects])],
    channels: [...new Set([...one.channels, ...other.channels])],
    score: stronger.score,
    ...(one.along || other.along ? { along: true } : {}),
    ...(one.jumps && other.jumps ? { jumps: true } : {}),
  };
}

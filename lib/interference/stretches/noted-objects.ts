import type { Campaign, FieldNote } from "../../survey/survey.js";
import type { Detection } from "../metal/detect-metal.js";
import { runEvidence } from "../metal/run-evidence.js";
import type { ScoredProfile } from "../metal/score-profile.js";
import type { MaskOptions } from "../options.js";

/** Where a noted object may disturb readings, and how much of it the readings show. */
export interface NotedObject {
  readonly note: FieldNote;
  readonly from_m: number;
  readonly to_m: number;
  /** Readings within reach, all passes. */
  readonly readings: number;
  /** Highest score within reach; 0 without readings. */
  readonly score: number;
  readonly seen: boolean;
  readonly channels: readonly string[];
  /** Of the line that shows it most; null where none does. */
  readonly offset_m: number | null;
}

/** How far metal reaches beyond its ends and aside: coil separation, height, error of positions. */
export function reachOfMetal(campaign: Campaign, options: MaskOptions): number {
  if (options.reach_m !== null) return options.reach_m;
  const sizes = campaign.passes.flatMap(({ instrument }) =>
    instrument.channels.map(({ separation_m }) => separation_m + instrument.height_m),
  );
  return Math.max(0, ...sizes) + options.positionError_m;
}

/** Every noted object of metal and every noted structure. */
export function notedObjects(
  campaign: Campaign,
  profiles: readonly ScoredProfile[],
  options: MaskOptions,
): readonly NotedObject[] {
  const reach_m = reachOfMetal(campaign, options);
  return campaign.notes
    .filter(({ kind }) => kind === "metal" || kind === "structure")
    .filter(({ from_m, to_m }) => Number.isFinite(from_m) && Number.isFinite(to_m))
    .map((note) => notedObject(note, profiles, { reach_m, least: options.traceThreshold }));
}

function notedObject(
  note: FieldNote,
  profiles: readonly ScoredProfile[],
  { reach_m, least }: { readonly reach_m: number; readonly least: number },
): NotedObject {
  const from_m = Math.min(note.from_m, note.to_m) - reach_m;
  const to_m = Math.max(note.from_m, note.to_m) + reach_m;
  const near = profiles
    .map((one) => traceIn(one, from_m, to_m))
    .filter((trace) => trace !== null)
    .filter((trace) => withinReach(note.offset_m, trace.offset_m, reach_m));
  const shown = near.filter(({ score }) => score >= least);
  const [clearest] = [...shown].sort((a, b) => b.score - a.score);
  return {
    note,
    from_m,
    to_m,
    readings: near.reduce((sum, trace) => sum + trace.readings, 0),
    score: Math.max(0, ...near.map(({ score }) => score)),
    seen: shown.length > 0,
    channels: [...new Set(shown.flatMap(({ channels }) => channels))],
    offset_m: clearest?.offset_m ?? null,
  };
}

/** What one line shows between two chainages; null where it has no readings there. */
function traceIn(scored: ScoredProfile, from_m: number, to_m: number) {
  const { chainage_m } = scored.profile;
  const first = chainage_m.findIndex((x) => x >= from_m);
  const last = chainage_m.findLastIndex((x) => x <= to_m);
  if (first < 0 || last < first) return null;
  return { ...runEvidence(scored, { first, last }), readings: last - first + 1 };
}

/** True where two offsets are within reach of each other; null is within reach of every one. */
export function withinReach(one: number | null, other: number | null, reach_m: number): boolean {
  return one === null || other === null || !(Math.abs(one - other) > reach_m);
}

/** True where a detection reaches into the stretch of a noted object on a line within reach. */
export function meets(noted: NotedObject, detection: Detection, reach_m: number): boolean {
  const along = detection.from_m <= noted.to_m && detection.to_m >= noted.from_m;
  return along && withinReach(noted.note.offset_m, detection.offset_m, reach_m);
}

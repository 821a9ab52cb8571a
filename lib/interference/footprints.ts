import type { Campaign, FieldNote } from "../survey/survey.js";
import { channelsIn, type Detection } from "./metal/detect.js";
import type { TrackScore } from "./metal/score.js";
import type { MaskOptions } from "./options.js";

/** Where a noted object may disturb readings, and how much of it the readings show. */
export interface Footprint {
  readonly note: FieldNote;
  readonly from_m: number;
  readonly to_m: number;
  /** Readings within the footprint, all passes. */
  readonly readings: number;
  /** Highest score within the footprint; 0 without readings. */
  readonly score: number;
  readonly seen: boolean;
  readonly channels: readonly string[];
  /** Of the track that shows it most; null where none does. */
  readonly offset_m: number | null;
}

/** How far metal reaches from its ends, and aside: separation and height, and the positions' error. */
export function reachOf(campaign: Campaign, options: MaskOptions): number {
  if (options.reach_m !== null) return options.reach_m;
  const sizes = campaign.passes.flatMap(({ instrument }) =>
    instrument.channels.map(({ separation_m }) => separation_m + instrument.height_m),
  );
  return Math.max(0, ...sizes) + options.positionError_m;
}

/** The footprint of every note of metal or of a structure. */
export function footprintsOf(
  campaign: Campaign,
  scored: readonly TrackScore[],
  options: MaskOptions,
): readonly Footprint[] {
  const reach_m = reachOf(campaign, options);
  return campaign.notes
    .filter(({ kind }) => kind === "metal" || kind === "structure")
    .filter(({ from_m, to_m }) => Number.isFinite(from_m) && Number.isFinite(to_m))
    .map((note) => footprintOf(note, scored, { reach_m, least: options.traceThreshold }));
}

interface Looking {
  readonly reach_m: number;
  readonly least: number;
}

function footprintOf(
  note: FieldNote,
  scored: readonly TrackScore[],
  { reach_m, least }: Looking,
): Footprint {
  const from_m = Math.min(note.from_m, note.to_m) - reach_m;
  const to_m = Math.max(note.from_m, note.to_m) + reach_m;
  const near = scored.flatMap((one) => {
    const trace = traceIn(one, { from_m, to_m });
    return trace !== null && within(note.offset_m, trace.offset_m, reach_m) ? [trace] : [];
  });
  const shown = near.filter(({ score }) => score >= least);
  const most = shown.reduce((a, b) => (b.score > a.score ? b : a), { score: 0, offset_m: null } as {
    readonly score: number;
    readonly offset_m: number | null;
  });
  return {
    note,
    from_m,
    to_m,
    readings: near.reduce((sum, trace) => sum + trace.readings, 0),
    score: Math.max(0, ...near.map(({ score }) => score)),
    seen: shown.length > 0,
    channels: [...new Set(shown.flatMap(({ channels }) => channels))],
    offset_m: most.offset_m,
  };
}

/** What one track shows between two chainages; null where it has no readings there. */
function traceIn(scored: TrackScore, stretch: { readonly from_m: number; readonly to_m: number }) {
  const { chainage_m, offset_m } = scored.track;
  const first = chainage_m.findIndex((x) => x >= stretch.from_m);
  const last = chainage_m.findLastIndex((x) => x <= stretch.to_m);
  if (first < 0 || last < first) return null;
  const scores = scored.score.subarray(first, last + 1);
  const offsets = offset_m.subarray(first, last + 1);
  return {
    readings: last - first + 1,
    score: scores.reduce((most, one) => (one > most ? one : most), 0),
    channels: channelsIn(scored, { first, last }),
    offset_m: offsets.reduce((sum, one) => sum + one, 0) / offsets.length,
  };
}

/** True where two offsets are within reach of each other; null is within reach of every one. */
export function within(one: number | null, other: number | null, reach_m: number): boolean {
  return one === null || other === null || !(Math.abs(one - other) > reach_m);
}

/** True where a detection reaches into a footprint on a line within reach. */
export function meets(footprint: Footprint, detection: Detection, reach_m: number): boolean {
  const along = detection.from_m <= footprint.to_m && detection.to_m >= footprint.from_m;
  return along && within(footprint.note.offset_m, detection.offset_m, reach_m);
}

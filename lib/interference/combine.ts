import { type Footprint, meets, within } from "./footprints.js";
import type { Detection } from "./metal/detect.js";

/** A stretch to set aside, before it is applied to the readings. */
export interface Piece {
  readonly from_m: number;
  readonly to_m: number;
  readonly offset_m: number | null;
  readonly detected: boolean;
  readonly objects: readonly string[];
  readonly channels: readonly string[];
  readonly score: number;
  /** True where an object along the line shifts it as a whole; else left out. */
  readonly along?: true;
  /** Fields of the channels that stay in use; left out where none does. */
  readonly spared?: readonly string[];
}

export interface CombineOptions {
  readonly reach_m: number;
  readonly mergeWithin_m: number;
  readonly maskSilent: boolean;
}

/** Notes that neither a trace nor a detection supports, though there are readings. */
export function silentFootprints(
  footprints: readonly Footprint[],
  detections: readonly Detection[],
  reach_m: number,
): readonly Footprint[] {
  return footprints.filter(
    (one) =>
      one.readings > 0 && !one.seen && !detections.some((found) => meets(one, found, reach_m)),
  );
}

/** Footprints and detections as stretches that do not overlap, by chainage. */
export function combine(
  footprints: readonly Footprint[],
  detections: readonly Detection[],
  options: CombineOptions,
): readonly Piece[] {
  const silent = new Set(silentFootprints(footprints, detections, options.reach_m));
  const noted = footprints
    .filter((one) => one.readings > 0 && (options.maskSilent || !silent.has(one)))
    .map(pieceOfNote);
  const seen = detections.map((found): Piece => ({ ...found, detected: true, objects: [] }));
  const pieces = [...noted, ...seen].sort((a, b) => a.from_m - b.from_m || a.to_m - b.to_m);
  return pieces.reduce(
    (done: readonly Piece[], piece) => joined(done, piece, options),
    [] as readonly Piece[],
  );
}

function pieceOfNote({ note, from_m, to_m, offset_m, channels, score }: Footprint): Piece {
  const aside = offset_m ?? note.offset_m;
  return {
    from_m,
    to_m,
    offset_m: aside,
    detected: false,
    objects: [note.object],
    channels,
    score,
  };
}

function joined(done: readonly Piece[], piece: Piece, options: CombineOptions): readonly Piece[] {
  const at = done.findLastIndex(
    (one) =>
      piece.from_m - one.to_m <= options.mergeWithin_m &&
      within(one.offset_m, piece.offset_m, options.reach_m),
  );
  return at < 0 ? [...done, piece] : done.map((one, k) => (k === at ? united(one, piece) : one));
}

function united(one: Piece, other: Piece): Piece {
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
  };
}

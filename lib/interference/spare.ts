import type { Piece } from "./combine.js";
import { within } from "./footprints.js";
import type { TrackScore } from "./metal/score.js";

/** A channel is unharmed where no reading of the piece departs by this many standard errors. */
const CALM = 2.5;
/** Fewer readings than this are no proof of calm. */
const LEAST = 4;

/**
 * Each piece with the channels that stay in use in it: those whose readings, single and averaged, on
 * every walk through it, stay near the levels before and after. A stretch that is shifted as a whole
 * spares none, as its levels before and after may be shifted too; nor does a note without a trace.
 */
export function withSpared(
  pieces: readonly Piece[],
  scored: readonly TrackScore[],
  reach_m: number,
): readonly Piece[] {
  return pieces.map((piece) => {
    if (piece.along || !piece.detected) return piece;
    const spared = scored.flatMap((one) => calmIn(one, piece, reach_m));
    return spared.length > 0 ? { ...piece, spared } : piece;
  });
}

function calmIn(
  { track, excursion }: TrackScore,
  piece: Piece,
  reach_m: number,
): readonly string[] {
  const inside = Array.from(track.chainage_m.keys()).filter((i) => {
    const x = track.chainage_m[i]!;
    const near = within(piece.offset_m, track.offset_m[i]!, reach_m);
    return near && x >= piece.from_m && x <= piece.to_m;
  });
  return track.channels.flatMap(({ field }, c) => {
    const own = inside.map((i) => Math.abs(excursion[c]![i]!)).filter((one) => !Number.isNaN(one));
    return own.length >= LEAST && Math.max(...own) < CALM ? [field] : [];
  });
}

import { median } from "../../numerics/robust.js";
import type { Piece } from "../combine.js";
import { within } from "../footprints.js";
import { placeLevels } from "../noise/place-levels.js";
import type { Detection } from "./detect.js";
import { canTellAlong, shiftedStretches } from "./parallel.js";
import type { TrackScore } from "./score.js";

/** Length of the stretches whose middle values are compared, m: several times the coils. */
const PLACE_M = 10;

/** Stretches of any line that something along it shifts as a whole, outside what is set aside anyhow. */
export function alongLines(
  scored: readonly TrackScore[],
  pieces: readonly Piece[],
  reach_m: number,
): readonly Detection[] {
  return linesOf(scored, reach_m).flatMap((line) => {
    const aside = (x: number, offset_m: number) =>
      pieces.some(
        (one) => x >= one.from_m && x <= one.to_m && within(one.offset_m, offset_m, reach_m),
      );
    const offset_m = median(line.map(asideOf));
    return shiftedStretches(placeLevels(line, PLACE_M, aside)).stretches.map(
      (one): Detection => ({ ...one, offset_m, along: true }),
    );
  });
}

/** True where the channels of some line can tell an object along it from ground. */
export function tellsAlong(scored: readonly TrackScore[]): boolean {
  return linesOf(scored, 0).some((line) => canTellAlong(placeLevels(line, PLACE_M, () => false)));
}

/** Walks over the same line, together: each within reach of the first of its group. */
function linesOf(scored: readonly TrackScore[], reach_m: number): readonly TrackScore[][] {
  const lines: TrackScore[][] = [];
  for (const one of scored) {
    if (one.track.chainage_m.length === 0) continue;
    const near = lines.find((line) =>
      within(asideOf(line[0]!), asideOf(one), Math.max(2, reach_m)),
    );
    if (near === undefined) lines.push([one]);
    else near.push(one);
  }
  return lines;
}

function asideOf({ track }: TrackScore): number {
  return median(track.offset_m);
}

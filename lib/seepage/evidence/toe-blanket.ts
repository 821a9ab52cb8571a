import { itemAt, valueAt } from "../../numerics/arrays.js";
import { presentMean } from "../../numerics/statistics/present.js";
import { median } from "../../numerics/statistics/robust.js";
import { type Cells, overCells, type Presence, percent, unknownPiece } from "./piece.js";
import type { SlicesAt25 } from "./slices-at-25.js";

/** The blanket along the landside toe, as far as resistivity shows it. */
export interface ToeBlanket {
  readonly line: string;
  readonly chainage_m: Float64Array;
  /** [draw] of n thicknesses, m; NaN without an estimate. */
  readonly draws: readonly Float64Array[];
}

/** More resistive ground under the blanket shows from this contrast on. */
const LEAST_CONTRAST = Math.log10(1.6);

/**
 * Thickness of the conductive ground at the toe over more resistive ground: slice by slice the
 * share that is nearer to the line's conductive level than to its resistive one, down to the first
 * slice that is wholly resistive. Null where the line does not show two levels.
 */
export function toeBlanket(line: string, ground: SlicesAt25): ToeBlanket | null {
  const { slices, mean, draws, chainage_m } = ground;
  if (slices.length < 2) return null;
  const usual = mean.map(median);
  const fine = Math.min(...usual);
  const coarse = Math.max(...usual.slice(usual.indexOf(fine)));
  if (!(coarse - fine >= LEAST_CONTRAST)) return null;
  const thickness = (draw: readonly Float64Array[], i: number) => {
    let thick_m = slices[0]?.top_m ?? 0;
    for (const [k, { top_m, base_m }] of slices.entries()) {
      const share = (valueAt(itemAt(draw, k), i) - fine) / (coarse - fine);
      if (share >= 1) break;
      thick_m += (base_m - top_m) * Math.min(1, 1 - share);
    }
    return Math.max(thick_m, LEAST_M);
  };
  return {
    line,
    chainage_m,
    draws: draws.map((draw) => chainage_m.map((_, i) => thickness(draw, i))),
  };
}

const LEAST_M = 0.1;

const NAME = "thin blanket at the toe";

/** Probability that the blanket at the toe is thinner than `share` of its median along the line. */
export function thinAtToe(cells: Cells, toe: ToeBlanket | null, share: number): Presence {
  if (toe === null) {
    return unknownPiece(
      cells,
      NAME,
      "Not known: a walk along the crest does not see the landside's blanket, and no line was " +
        "walked there that shows one.",
    );
  }
  const usual_m = median(toe.draws.map((draw) => median(draw)));
  const value = overCells(cells, toe.chainage_m, (i) =>
    presentMean(
      toe.draws.flatMap((draw) => {
        const here = valueAt(draw, i);
        return Number.isNaN(here) ? [] : [here < share * usual_m ? 1 : 0];
      }),
    ),
  );
  return {
    name: NAME,
    value,
    source: `line ${toe.line}: posterior draws of its slices, a conductive blanket on resistive ground`,
    statement: (chance) =>
      `${percent(chance)} likely that the blanket at the toe is thinner than ` +
      `${(share * usual_m).toFixed(1)} m (its median there is ${usual_m.toFixed(1)} m).`,
    unknown: "Not known here: the toe line has no estimate.",
  };
}

import { valueAt, zipped } from "../../numerics/arrays.js";
import { lastAtMost } from "../../numerics/functions/linear-between.js";
import type { RowRun } from "../../numerics/runs.js";
import { MARKS } from "../../survey/reading-causes.js";
import type { Pass } from "../../survey/survey.js";
import { piecesOfStandstill } from "./standstill.js";

interface Standing {
  readonly clock_s: Float64Array;
  /** Runs of rows made while standing. */
  readonly runs: readonly RowRun[];
  /** One mask a channel; written into. */
  readonly setAside: readonly Uint8Array[];
}

/** One reading in the middle of each piece of a standstill takes the means of the piece. */
export function averageStandstills(pass: Pass, { clock_s, runs, setAside }: Standing) {
  const pieces = runs
    .flatMap((run) => piecesOfStandstill(run, clock_s))
    .filter(({ first, last }) => last > first);
  if (pieces.length === 0) {
    return { values: pass.values, corrected: pass.corrected, stood: 0, kept: 0 };
  }
  const values = pass.values.map((column) => Float64Array.from(column));
  const corrected = Uint8Array.from(pass.corrected);
  let stood = 0;
  for (const { first, last } of pieces) {
    const middle_s = (valueAt(clock_s, first) + valueAt(clock_s, last)) / 2;
    const middle = lastAtMost(clock_s, middle_s, [first, last]);
    stood += last - first + 1;
    corrected[middle] = 1;
    for (const [column, mask] of zipped(values, setAside)) {
      averageInto(middle, { first, last }, { column, mask });
    }
  }
  return { values, corrected, stood, kept: pieces.length };
}

function averageInto(
  middle: number,
  { first, last }: RowRun,
  { column, mask }: { readonly column: Float64Array; readonly mask: Uint8Array },
): void {
  let [sum, count] = [0, 0];
  for (let i = first; i <= last; i++) {
    if (mask[i] !== 0) continue;
    sum += valueAt(column, i);
    count += 1;
    if (i !== middle) mask[i] = MARKS.stoodStill;
  }
  if (count === 0) return;
  column[middle] = sum / count;
  mask[middle] = 0;
}

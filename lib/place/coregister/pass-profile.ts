import { usable } from "../../survey/account/reading-status.js";
import type { Instrument } from "../../survey/survey.js";
import { type Leg, legsOf } from "../walk/legs.js";
import type { PlacedPass } from "../walk/place-pass.js";
import { eachBetween, GRID_M, highPass } from "./even-grid.js";

/** The high-passed profile of a pass's channels along the bank, all its legs taken together. */
export interface PassProfile {
  readonly instrument: Instrument;
  /** Cell k lies at (first + k) × 0.5 m. */
  readonly first: number;
  /** For each channel, n values in standard deviations; NaN where none. */
  readonly highPassed: readonly Float64Array[];
}

/** Neighbours further apart than this are not joined, m. */
const JOIN_M = 5;

/**
 * The high-passed profile of each channel on an even grid: logarithms where all values are
 * positive, means over the legs that passed a cell, less their mean over 30 m, cut to 4 robust
 * standard deviations.
 */
export function profileOf({ pass, chainage_m, line }: PlacedPass): PassProfile {
  const { instrument } = pass;
  const values = instrument.channels.map((_, c) => usable(pass, c));
  const legs = legsOf(chainage_m, line);
  if (legs.length === 0) {
    return { instrument, first: 0, highPassed: values.map(() => new Float64Array()) };
  }
  const ends = legs.flatMap(({ from_m, to_m }) => [from_m, to_m]);
  const first = Math.ceil(Math.min(...ends) / GRID_M);
  const n = Math.max(0, Math.floor(Math.max(...ends) / GRID_M) - first + 1);
  const highPassed = values.map((column) =>
    standardised(highPass(meanOfLegs({ chainage_m, legs, first, n }, logged(column)))),
  );
  return { instrument, first, highPassed };
}

function logged(column: Float64Array): Float64Array {
  return column.some((value) => value <= 0) ? column : column.map(Math.log);
}

interface Gridded {
  readonly chainage_m: Float64Array;
  readonly legs: readonly Leg[];
  readonly first: number;
  readonly n: number;
}

function meanOfLegs({ chainage_m, legs, first, n }: Gridded, column: Float64Array): Float64Array {
  const sum = new Float64Array(n);
  const count = new Uint32Array(n);
  const add = (g: number, value: number) => {
    if (g < first || g >= first + n) return;
    sum[g - first]! += value;
    count[g - first]! += 1;
  };
  for (const leg of legs) {
    let last = -1;
    for (let i = leg.first; i <= leg.last; i++) {
      if (Number.isNaN(chainage_m[i]! + column[i]!)) continue;
      const ahead_m = last < 0 ? JOIN_M : (chainage_m[i]! - chainage_m[last]!) * leg.way;
      if (last >= 0 && ahead_m <= 0) continue;
      if (last >= 0 && ahead_m < JOIN_M) {
        const at = (row: number) => [chainage_m[row]! / GRID_M, column[row]!] as const;
        eachBetween(at(last), at(i), add);
      }
      last = i;
    }
  }
  return sum.map((total, g) => (count[g]! > 0 ? total / count[g]! : Number.NaN));
}

/** The values in units of their standard deviation about 0. */
function standardised(values: Float64Array): Float64Array {
  const present = values.filter((value) => !Number.isNaN(value));
  const sd = Math.sqrt(present.reduce((sum, value) => sum + value * value, 0) / present.length);
  return values.map((value) => value / sd);
}

import { entryOf } from "../../numerics/arrays.js";
import { presentMean } from "../../numerics/statistics/present.js";
import { usable } from "../../survey/account/reading-status.js";
import { eachBetween, GRID_M, highPass, sharedChannels } from "../coregister/even-grid.js";
import type { Leg } from "./legs.js";
import type { PlacedPass } from "./place-pass.js";
import type { Course } from "./shift-in-time.js";

const LEAST_OVERLAP_M = 50;

/** A leg of a pass. */
interface WalkedLeg {
  readonly placed: PlacedPass;
  readonly course: Course;
  readonly leg: Leg;
}

interface LegPair {
  readonly one: WalkedLeg;
  readonly other: WalkedLeg;
  readonly from_m: number;
  readonly to_m: number;
  /** Indices of the channels compared. */
  readonly channels: readonly (readonly [number, number])[];
}

/** Two legs in opposite directions along the same stretch; none for others. */
export function pairOf(one: WalkedLeg, other: WalkedLeg): readonly LegPair[] {
  if (one.leg.way === other.leg.way) return [];
  const low = ({ leg }: WalkedLeg) => Math.min(leg.from_m, leg.to_m);
  const high = ({ leg }: WalkedLeg) => Math.max(leg.from_m, leg.to_m);
  const from_m = Math.max(low(one), low(other));
  const to_m = Math.min(high(one), high(other));
  const channels = sharedChannels(one.placed.pass, other.placed.pass);
  if (!(to_m - from_m >= LEAST_OVERLAP_M) || channels.length === 0) return [];
  return [{ one, other, from_m, to_m, channels }];
}

/**
 * Mean over the channels; `at` has the shifted places of each pass, one for each of its course's
 * rows.
 */
export function pairCorrelation(pair: LegPair, at: ReadonlyMap<PlacedPass, Float64Array>): number {
  const profile = (walked: WalkedLeg, channel: number) =>
    highPass(onGrid(walked, usable(walked.placed.pass, channel), { pair, at }));
  const all = pair.channels.map(([i, j]) =>
    correlationOf(profile(pair.one, i), profile(pair.other, j)),
  );
  return presentMean(all) || 0;
}

interface Gridding {
  readonly pair: LegPair;
  readonly at: ReadonlyMap<PlacedPass, Float64Array>;
}

/** A leg's values on an even grid of the pair's stretch. */
function onGrid({ placed, course, leg }: WalkedLeg, values: Float64Array, { pair, at }: Gridding) {
  const places = entryOf(at, placed);
  const n = Math.floor((pair.to_m - pair.from_m) / GRID_M) + 1;
  const grid = new Float64Array(n).fill(Number.NaN);
  let [place, value] = [Number.NaN, Number.NaN];
  for (const [k, row] of course.rows.entries()) {
    if (row < leg.first || row > leg.last || Number.isNaN(values[row]!)) continue;
    const ahead_m = (places[k]! - place) * leg.way;
    if (ahead_m <= 0) continue;
    if (ahead_m < 10 * GRID_M) {
      const cell = (x: number) => (x - pair.from_m) / GRID_M;
      eachBetween([cell(place), value], [cell(places[k]!), values[row]!], (g, between) => {
        if (g >= 0 && g < n) grid[g] = between;
      });
    }
    [place, value] = [places[k]!, values[row]!];
  }
  return grid;
}

/** Correlation about 0; NaN where too few cells have both. */
function correlationOf(a: Float64Array, b: Float64Array): number {
  let [ab, aa, bb, n] = [0, 0, 0, 0];
  for (let g = 0; g < a.length; g++) {
    if (Number.isNaN(a[g]! + b[g]!)) continue;
    ab += a[g]! * b[g]!;
    aa += a[g]! * a[g]!;
    bb += b[g]! * b[g]!;
    n += 1;
  }
  return n * GRID_M >= LEAST_OVERLAP_M / 2 && aa > 0 && bb > 0
    ? ab / Math.sqrt(aa * bb)
    : Number.NaN;
}

import type { DepthSlices } from "../depth/depth-slices.js";
import { itemAt, lastOf, neighbours, valueAt } from "../numerics/arrays.js";
import { runsWhere } from "../numerics/runs.js";
import { movingMedian, type Windows } from "../numerics/statistics/moving-median.js";
import { madScale, median } from "../numerics/statistics/robust.js";
import { listText } from "../step/list-text.js";
import { significantText } from "../step/number-text.js";

/** Ground that differs from that on both sides of it, over less than the shortest block. */
export interface ShortBody {
  readonly from_m: number;
  readonly to_m: number;
  /** Its resistivity over that of the side that is more like it, in the slice that differs most. */
  readonly ratio: number;
}

/** What differs by less is not named. */
const LEAST_RATIO = 2;
/** Nor what is within so many robust deviations of stations about the level around them. */
const DEVIATIONS = 5;
/** The level around a station is a median over so many shortest blocks to either side. */
const AROUND = 1.5;
/** A station's own level is a median over so many metres. */
const OWN_M = 6;
/** Shorter ones are a station or two. */
const SHORTEST_M = 6;
/** The ground beside a body, and what lies between the two, m. */
const BESIDE_M = 15;
const EDGE_M = 4;

interface Between {
  /** Indices of the first stations after the boundaries. */
  readonly breaks: readonly number[];
  readonly minLength_m: number;
}

/**
 * Bodies within blocks that are shorter than the shortest block, by chainage: stations whose
 * resistivity differs by a factor of two and by five robust deviations from the level around them,
 * and whose median does from the 15 m on either side. Stations without an estimate are passed over.
 * Source: common practice.
 */
export function shortBodies(given: DepthSlices, between: Between): readonly ShortBody[] {
  const columns = given.log10Resistivity.filter((_, k) => itemAt(given.slices, k).reliable);
  const found = columns.flatMap((column) => bodiesIn(given, column, between));
  const apart = found.toSorted((one, other) => size(other) - size(one));
  return apart
    .filter((one, i) => !apart.slice(0, i).some((other) => overlap(one, other)))
    .sort((one, other) => one.from_m - other.from_m);
}

const size = ({ ratio }: ShortBody) => Math.abs(Math.log(ratio));

const overlap = (one: ShortBody, other: ShortBody) =>
  one.from_m <= other.to_m && other.from_m <= one.to_m;

function bodiesIn(
  { chainage_m, spacing_m }: DepthSlices,
  column: Float64Array,
  { breaks, minLength_m }: Between,
): readonly ShortBody[] {
  const stations = (metres: number) => Math.max(1, Math.round(metres / spacing_m));
  const medians = (half: number) =>
    movingMedian(column, windowsInBlocks([0, ...breaks, column.length], half));
  const [own, around] = [medians(stations(OWN_M / 2)), medians(stations(AROUND * minLength_m))];
  const off = own.map((one, i) => one - valueAt(around, i));
  const least = Math.max(Math.log10(LEAST_RATIO), DEVIATIONS * madScale(off));
  const [edge, beside] = [stations(EDGE_M), stations(BESIDE_M)];
  return [1, -1].flatMap((sign) =>
    runsWhere(off, (one) => sign * one > least).flatMap(({ first, last }) => {
      const own = median(column.subarray(first, last + 1));
      const sides = [
        median(column.subarray(Math.max(0, first - edge - beside), Math.max(0, first - edge))),
        median(column.subarray(last + 1 + edge, last + 1 + edge + beside)),
      ];
      const less = Math.min(...sides.map((side) => sign * (own - side)));
      const [from_m, to_m] = [valueAt(chainage_m, first), valueAt(chainage_m, last)];
      const isShort = to_m - from_m >= SHORTEST_M && to_m - from_m < minLength_m;
      return isShort && less > least ? [{ from_m, to_m, ratio: 10 ** (sign * less) }] : [];
    }),
  );
}

/** So many stations to either side, none beyond the block's ends. */
function windowsInBlocks(ends: readonly number[], half: number): Windows {
  const n = lastOf(ends);
  const windows = { first: new Int32Array(n), end: new Int32Array(n) };
  for (const [from, to] of neighbours(ends)) {
    for (let i = from; i < to; i++) {
      windows.first[i] = Math.max(from, i - half);
      windows.end[i] = Math.min(to, i + half + 1);
    }
  }
  return windows;
}

/** Which bodies stand unseen by the cut, a sentence; null where none does. */
export function shortBodiesText(bodies: readonly ShortBody[], minLength_m: number): string | null {
  if (bodies.length === 0) return null;
  const places = bodies.map(({ from_m, to_m, ratio }) => {
    const times = significantText(Math.max(ratio, 1 / ratio), 2);
    const way = ratio > 1 ? "more" : "less";
    return `${from_m.toFixed(0)}–${to_m.toFixed(0)} m (${times} times ${way} resistive)`;
  });
  return (
    `Ground that differs from both sides, shorter than the shortest block asked for (${minLength_m} ` +
    `m), stands at ${listText(places)}. No block and no seepage zone need tell of it: look there, ` +
    "or cut with a lower minLength_m."
  );
}

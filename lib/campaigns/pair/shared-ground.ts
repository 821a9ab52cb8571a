import type { DepthSlices } from "../../depth/depth-slices.js";
import { firstOf, itemAt, lastOf, zipped } from "../../numerics/arrays.js";
import type { ChainageRange, DepthRange } from "../ranges.js";
import { alignLater } from "./align/align-later.js";
import { sampledAt } from "./align/sample-columns.js";
import { type SliceColumn, sharedSlices, sliceColumns } from "./shared-slices.js";

/** Two campaigns on the stations and slices that they share, before any correction. */
export interface SharedGround {
  /** n chainages of the stations that both have. */
  readonly chainage_m: Float64Array;
  readonly spacing_m: number;
  readonly slices: readonly DepthRange[];
  /** True where the slices had to be averaged again from the layers. */
  readonly resliced: boolean;
  /** For each slice, n differences of log10 resistivity, later − earlier, at field temperature. */
  readonly difference: readonly Float64Array[];
  /** For each slice, n means of the two campaigns. */
  readonly mean: readonly Float64Array[];
  /** For each slice, n entries: 1 where the earlier campaign has an estimate. */
  readonly firstKnown: readonly Uint8Array[];
  /** For each slice, n standard deviations of the difference. */
  readonly sd: readonly Float64Array[];
  /**
   * k × k entries of n values: the averaging kernel of each slice's difference, the mean of both
   * campaigns; null where either has none.
   */
  readonly averaging: readonly (readonly Float64Array[])[] | null;
  /** n shifts of the later campaign's chainage against the earlier's, m; 0 without alignment. */
  readonly shift_m: Float64Array;
  /** n standard deviations of the same; 0 without alignment. */
  readonly shiftSd_m: Float64Array;
  /** n entries: true where either campaign has no estimate in any slice. */
  readonly unknown: readonly boolean[];
  /** Stretches that only one campaign covers. */
  readonly outside: readonly ChainageRange[];
}

/**
 * The stations and slices that two campaigns of equal spacing share, on the earlier one's chainage:
 * the later one is sampled with the shift, up to `alignWithin_m`, that aligns its texture.
 */
export function sharedGround(
  earlier: DepthSlices,
  later: DepthSlices,
  alignWithin_m: number,
): SharedGround {
  const { slices, resliced } = sharedSlices(earlier, later);
  const { spacing_m } = earlier;
  const stations = sharedStations(earlier, later);
  const before = sliceColumns(earlier, slices, resliced).map((column) =>
    sampled(column, stations.earlier),
  );
  const onOwn = sliceColumns(later, slices, resliced);
  const shift = shiftOf({ before, after: onOwn, stations, spacing_m }, alignWithin_m);
  const places = stations.later.map((at, s) => at + itemAt(shift.mean_m, s) / spacing_m);
  const both = zipped(
    before,
    onOwn.map((column) => sampled(column, places)),
  );
  const difference = both.map(([a, b]) => combined(a.value, b.value, (u, v) => v - u));
  return {
    chainage_m: stations.earlier.map((i) => itemAt(earlier.chainage_m, i)),
    spacing_m,
    slices,
    resliced,
    difference,
    mean: both.map(([a, b]) => combined(a.value, b.value, meanOfTwo)),
    sd: both.map(([a, b]) => combined(b.sd, a.sd, Math.hypot)),
    firstKnown: before.map(({ value }) => Uint8Array.from(value, (v) => (Number.isNaN(v) ? 0 : 1))),
    averaging: meanAveraging(both),
    shift_m: shift.mean_m,
    shiftSd_m: shift.sd_m,
    unknown: Array.from(places, (_, s) => difference.every((column) => Number.isNaN(column[s]))),
    outside: outsideStretches(earlier, later),
  };
}

const combined = (one: Float64Array, other: Float64Array, of: (u: number, v: number) => number) =>
  one.map((value, s) => of(value, itemAt(other, s)));

const meanOfTwo = (one: number, other: number) => (one + other) / 2;

/** Indices of the stations that both campaigns have at one chainage. */
interface SharedStations {
  readonly earlier: Float64Array;
  readonly later: Float64Array;
}

function sharedStations(earlier: DepthSlices, later: DepthSlices): SharedStations {
  const key = (x: number) => Math.round(x / earlier.spacing_m);
  const at = new Map(Array.from(later.chainage_m, (x, j) => [key(x), j]));
  const pairs = Array.from(earlier.chainage_m, (x, i) => ({ i, j: at.get(key(x)) ?? -1 })).filter(
    ({ j }) => j >= 0,
  );
  return {
    earlier: Float64Array.from(pairs, ({ i }) => i),
    later: Float64Array.from(pairs, ({ j }) => j),
  };
}

/** A campaign's column at places that are given in its own stations. */
function sampled(column: SliceColumn, places: Float64Array): SliceColumn {
  const at = (values: Float64Array) => places.map((place) => sampledAt(values, place));
  return {
    value: at(column.value),
    sd: at(column.sd),
    averaging: column.averaging?.map(at) ?? null,
  };
}

interface Unaligned {
  readonly before: readonly SliceColumn[];
  readonly after: readonly SliceColumn[];
  readonly stations: SharedStations;
  readonly spacing_m: number;
}

/** Fewer stations than this determine no shift. */
const LEAST_STATIONS = 30;

function shiftOf({ before, after, stations, spacing_m }: Unaligned, within_m: number) {
  const n = stations.later.length;
  if (!(within_m > 0) || n < LEAST_STATIONS || before.length === 0) {
    return { mean_m: new Float64Array(n), sd_m: new Float64Array(n) };
  }
  const values = (columns: readonly SliceColumn[]) => columns.map(({ value }) => value);
  const ahead = firstOf(stations.later);
  return alignLater({ earlier: values(before), later: values(after), ahead, spacing_m }, within_m);
}

function meanAveraging(both: readonly (readonly [SliceColumn, SliceColumn])[]) {
  const rows = both.flatMap(([{ averaging: a }, { averaging: b }]) =>
    a === null || b === null
      ? []
      : [zipped(a, b).map(([one, other]) => combined(one, other, meanOfTwo))],
  );
  return rows.length < both.length ? null : rows;
}

/** Stretches at the ends that only one campaign covers. */
export function outsideStretches(earlier: DepthSlices, later: DepthSlices): ChainageRange[] {
  const [a, b] = [earlier.chainage_m, later.chainage_m];
  const ends = [firstOf, lastOf].map((end) => [end(a), end(b)]);
  const stretches = ends.map((pair) => ({ from_m: Math.min(...pair), to_m: Math.max(...pair) }));
  return stretches.filter(({ from_m, to_m }) => to_m - from_m > earlier.spacing_m / 2);
}

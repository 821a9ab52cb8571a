import type { DepthSlices } from "../../depth/depth-slices.js";
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
  const pairs = sharedStations(earlier, later);
  const before = sliceColumns(earlier, slices, resliced).map((column) =>
    sampled(column, (_, at) => at, pairs),
  );
  const onOwn = sliceColumns(later, slices, resliced);
  const shift = shiftOf(
    { before, after: onOwn, pairs, spacing_m: earlier.spacing_m },
    alignWithin_m,
  );
  const place = (s: number, at: number) => at + shift.mean_m[s]! / earlier.spacing_m;
  const after = onOwn.map((column) =>
    sampled(
      column,
      place,
      pairs.map(([, j]) => [j] as const),
    ),
  );
  const difference = after.map(({ value }, k) => value.map((v, s) => v - before[k]!.value[s]!));
  return {
    chainage_m: Float64Array.from(pairs, ([i]) => earlier.chainage_m[i]!),
    spacing_m: earlier.spacing_m,
    slices,
    resliced,
    difference,
    mean: after.map(({ value }, k) => value.map((v, s) => (v + before[k]!.value[s]!) / 2)),
    sd: after.map(({ sd }, k) => sd.map((v, s) => Math.hypot(v, before[k]!.sd[s]!))),
    firstKnown: before.map(({ value }) => Uint8Array.from(value, (v) => (Number.isNaN(v) ? 0 : 1))),
    averaging: meanAveraging(before, after),
    shift_m: shift.mean_m,
    shiftSd_m: shift.sd_m,
    unknown: pairs.map((_, s) => difference.every((column) => Number.isNaN(column[s]!))),
    outside: outsideStretches(earlier, later),
  };
}

/** Pairs of indices, earlier and later, of stations at the same chainage. */
function sharedStations(earlier: DepthSlices, later: DepthSlices): (readonly [number, number])[] {
  const key = (x: number) => Math.round(x / earlier.spacing_m);
  const at = new Map(Array.from(later.chainage_m, (x, j) => [key(x), j]));
  return Array.from(earlier.chainage_m, (x, i) => [i, at.get(key(x)) ?? -1] as const).filter(
    ([, j]) => j >= 0,
  );
}

/** A campaign's column where the shared stations lie in it. */
function sampled(
  column: SliceColumn,
  place: (s: number, at: number) => number,
  pairs: readonly (readonly [number, ...number[]])[],
): SliceColumn {
  const places = pairs.map(([at], s) => place(s, at));
  const at = (values: Float64Array) => Float64Array.from(places, (p) => sampledAt(values, p));
  return {
    value: at(column.value),
    sd: at(column.sd),
    averaging: column.averaging?.map(at) ?? null,
  };
}

interface Unaligned {
  readonly before: readonly SliceColumn[];
  readonly after: readonly SliceColumn[];
  readonly pairs: readonly (readonly [number, number])[];
  readonly spacing_m: number;
}

/** Fewer stations than this determine no shift. */
const LEAST_STATIONS = 30;

function shiftOf({ before, after, pairs, spacing_m }: Unaligned, within_m: number) {
  const n = pairs.length;
  if (!(within_m > 0) || n < LEAST_STATIONS || before.length === 0) {
    return { mean_m: new Float64Array(n), sd_m: new Float64Array(n) };
  }
  const values = (columns: readonly SliceColumn[]) => columns.map(({ value }) => value);
  const pair = { earlier: values(before), later: values(after), ahead: pairs[0]![1], spacing_m };
  return alignLater(pair, { within_m });
}

function meanAveraging(before: readonly SliceColumn[], after: readonly SliceColumn[]) {
  const rows = before.map(({ averaging }, k) => {
    const other = after[k]!.averaging;
    if (averaging === null || other === null) return null;
    return averaging.map((column, b) => column.map((v, s) => (v + other[b]![s]!) / 2));
  });
  return rows.some((row) => row === null) ? null : (rows as Float64Array[][]);
}

function outsideStretches(earlier: DepthSlices, later: DepthSlices) {
  const [a, b] = [range(earlier), range(later)];
  const stretches = [
    { from_m: Math.min(a.from, b.from), to_m: Math.max(a.from, b.from) },
    { from_m: Math.min(a.to, b.to), to_m: Math.max(a.to, b.to) },
  ];
  return stretches.filter(({ from_m, to_m }) => to_m - from_m > earlier.spacing_m / 2);
}

const range = ({ chainage_m }: DepthSlices) => ({
  from: chainage_m[0]!,
  to: chainage_m[chainage_m.length - 1]!,
});

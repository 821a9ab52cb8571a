import type { DepthSlices } from "../depth/depth-slices.js";
import { type SharedSlice, sharedSlices, sliceColumns } from "./shared-slices.js";

/** What two campaigns both saw, before any correction. */
export interface SharedGround {
  /** n chainages of the stations that both have. */
  readonly chainage_m: Float64Array;
  readonly spacing_m: number;
  readonly slices: readonly SharedSlice[];
  /** True where the slices had to be averaged again from the layers. */
  readonly resliced: boolean;
  /** For each slice, n differences of log10 resistivity, later − earlier, at field temperature. */
  readonly difference: readonly Float64Array[];
  /** For each slice, n means of the two campaigns. */
  readonly mean: readonly Float64Array[];
  /** For each slice, n standard deviations of the difference. */
  readonly sd: readonly Float64Array[];
  /** n entries: true where either campaign has no estimate in any slice. */
  readonly unknown: readonly boolean[];
  /** Stretches that only one campaign covers. */
  readonly outside: readonly { readonly from_m: number; readonly to_m: number }[];
}

/** The stations and slices that two campaigns of equal spacing share. */
export function sharedGround(earlier: DepthSlices, later: DepthSlices): SharedGround {
  const { slices, resliced } = sharedSlices(earlier, later);
  const pairs = sharedStations(earlier, later);
  const before = sliceColumns(earlier, slices, resliced);
  const after = sliceColumns(later, slices, resliced);
  const join = (k: number, rule: (one: number, other: number) => number, part: "value" | "sd") =>
    Float64Array.from(pairs, ([i, j]) => rule(before[k]![part][i]!, after[k]![part][j]!));
  const difference = slices.map((_, k) => join(k, (one, other) => other - one, "value"));
  return {
    chainage_m: Float64Array.from(pairs, ([i]) => earlier.chainage_m[i]!),
    spacing_m: earlier.spacing_m,
    slices,
    resliced,
    difference,
    mean: slices.map((_, k) => join(k, (one, other) => (one + other) / 2, "value")),
    sd: slices.map((_, k) => join(k, Math.hypot, "sd")),
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

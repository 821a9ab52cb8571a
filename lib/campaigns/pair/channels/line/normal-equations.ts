import { choleskyFactor, choleskySolve } from "../../../../numerics/algebra/cholesky.js";
import { type Design, type UnknownRows, unknownRows } from "./design.js";
import type { Unknown } from "./line-unknowns.js";
import type { Weighted } from "./station-data.js";

/** Normal equations of p unknowns, without their prior. */
export interface Equations {
  /** p × p, the lower triangle. */
  readonly normal: Float64Array;
  readonly right: Float64Array;
}

/** Those of the unknowns of the whole line. */
export function wholeEquations(data: Weighted, design: Design): Equations {
  const p = design.unknowns.length;
  const sums = { normal: new Float64Array(p * p), right: new Float64Array(p) };
  addSingles(sums, data, design);
  addStations(data, (station) => {
    for (let a = design.single.length; a < p; a++) {
      if (weigh(station, design.values[a]!)) addUnknown(sums, { design, station, a });
    }
  });
  return sums;
}

/** Weighted least squares with the prior of the unknowns: those of the whole line, then others. */
export function solved(
  data: Weighted,
  { design, whole }: { readonly design: Design; readonly whole: Equations },
  others: readonly Unknown[],
): Float64Array {
  const unknowns = [...design.unknowns, ...others];
  const [p, known] = [unknowns.length, design.unknowns.length];
  const sums = { normal: new Float64Array(p * p), right: new Float64Array(p) };
  sums.right.set(whole.right);
  for (let a = 0; a < known; a++) {
    sums.normal.set(whole.normal.subarray(a * known, (a + 1) * known), a * p);
  }
  addOthers(sums, data, { design, values: others.map(unknownRows) });
  for (const [a, { sd }] of unknowns.entries()) sums.normal[a * p + a]! += 1 / sd ** 2;
  return p === 0 ? sums.right : choleskySolve(choleskyFactor(sums.normal, p), p, sums.right);
}

interface Beside {
  readonly design: Design;
  readonly values: readonly UnknownRows[];
}

function addOthers(sums: Equations, data: Weighted, { design, values }: Beside): void {
  if (values.length === 0) return;
  const known = design.unknowns.length;
  addStations(data, (station) => {
    for (let k = 0; k < values.length; k++) {
      if (!weigh(station, values[k]!)) continue;
      addUnknown(sums, { design, station, a: known + k });
      const from = (known + k) * sums.right.length + known;
      for (let b = 0; b <= k; b++) sums.normal[from + b]! += met(station, values[b]!);
    }
  });
}

/** Of the unknowns that enter one channel each: products run along the line. */
function addSingles({ normal, right }: Equations, data: Weighted, design: Design): void {
  const { single, channel } = design;
  const p = right.length;
  const sized = new Float64Array(data.stations.n);
  for (let a = 0; a < single.length; a++) {
    for (let i = 0; i < sized.length; i++) sized[i] = data.weight[i]! * single[a]![i]!;
    const row = channel[a]! * data.stations.q;
    right[a] = metData(data, sized, row);
    fillProducts(data, design, { sized, row, into: normal.subarray(a * p, a * p + a + 1) });
  }
}

interface Products {
  readonly sized: Float64Array;
  /** Where the precisions of its channel begin. */
  readonly row: number;
  /** For each unknown up to its own. */
  readonly into: Float64Array;
}

/** An inner loop: Σ sized × precision × column, two columns side by side. */
function fillProducts(
  { stations, precision }: Weighted,
  { single, channel }: Design,
  { sized, row, into }: Products,
): void {
  const { base } = stations;
  for (let b = 0; b < into.length; b += 2) {
    // The last one of an odd number stands beside itself.
    const c = Math.min(b + 1, into.length - 1);
    const [one, two] = [single[b]!, single[c]!];
    const [atOne, atTwo] = [row + channel[b]!, row + channel[c]!];
    let sum = 0;
    let other = 0;
    for (let i = 0; i < sized.length; i++) {
      const own = sized[i]!;
      const from = base[i]!;
      sum += own * precision[from + atOne]! * one[i]!;
      other += own * precision[from + atTwo]! * two[i]!;
    }
    into[b] = sum;
    into[c] = other;
  }
}

/** An inner loop: Σ sized × precision × datum, the precisions of one channel from `row` on. */
function metData({ stations, precision }: Weighted, sized: Float64Array, row: number): number {
  const { n, q, datum, base } = stations;
  let sum = 0;
  for (let i = 0, at = 0; i < n; i++, at += q) {
    const own = sized[i]!;
    if (own === 0) continue;
    const from = base[i]! + row;
    for (let e = 0; e < q; e++) sum += own * precision[from + e]! * datum[at + e]!;
  }
  return sum;
}

/** One station; `weighted` is written over from one unknown to the next. */
interface Station {
  readonly data: Weighted;
  /** q: the weight matrix times the values of an unknown. */
  readonly weighted: Float64Array;
  i: number;
}

function addStations(data: Weighted, add: (at: Station) => void) {
  const station: Station = { data, weighted: new Float64Array(data.stations.q), i: 0 };
  for (; station.i < data.weight.length; station.i++) {
    if (data.weight[station.i]! > 0) add(station);
  }
}

/** An inner loop, four sums side by side. False where the unknown does not enter the station. */
function weigh({ data, weighted, i }: Station, { rows, width, place, channels }: UnknownRows) {
  const { weight, transposed, stations } = data;
  const q = weighted.length;
  const k = channels.length;
  const at = i * width + place;
  const from = stations.base[i]!;
  if (!entersAt(rows, at, k)) return false;
  const w = weight[i]!;
  let e = 0;
  for (; e + 3 < q; e += 4) {
    let one = 0;
    let two = 0;
    let three = 0;
    let four = 0;
    const row = from + e * q;
    for (let j = 0; j < k; j++) {
      const size = w * rows[at + j]!;
      const here = row + channels[j]!;
      one += size * transposed[here]!;
      two += size * transposed[here + q]!;
      three += size * transposed[here + 2 * q]!;
      four += size * transposed[here + 3 * q]!;
    }
    weighted[e] = one;
    weighted[e + 1] = two;
    weighted[e + 2] = three;
    weighted[e + 3] = four;
  }
  for (; e < q; e++) {
    let sum = 0;
    for (let j = 0; j < k; j++) {
      sum += w * rows[at + j]! * transposed[from + e * q + channels[j]!]!;
    }
    weighted[e] = sum;
  }
  return true;
}

function entersAt(rows: Float64Array, at: number, count: number): boolean {
  for (let j = 0; j < count; j++) if (rows[at + j] !== 0) return true;
  return false;
}

/** An inner loop: how the weighted unknown meets the values of another. */
function met({ i, weighted }: Station, { rows, width, place, channels }: UnknownRows): number {
  const at = i * width + place;
  let sum = 0;
  for (let k = 0; k < channels.length; k++) sum += weighted[channels[k]!]! * rows[at + k]!;
  return sum;
}

interface Entry {
  readonly design: Design;
  readonly station: Station;
  /** Number of the unknown that was weighted. */
  readonly a: number;
}

/** An inner loop: a row of the equations as far as the unknowns of the whole line go. */
function addUnknown({ normal, right }: Equations, { design, station, a }: Entry): void {
  const { values, single, channel, rows, width } = design;
  const { weighted, data, i } = station;
  const { datum, q } = data.stations;
  const from = a * right.length;
  const at = i * width;
  let sum = right[a]!;
  for (let e = 0; e < q; e++) sum += weighted[e]! * datum[i * q + e]!;
  right[a] = sum;
  for (let b = 0; b < single.length; b++)
    normal[from + b]! += weighted[channel[b]!]! * rows[at + b]!;
  const last = Math.min(a, values.length - 1);
  for (let b = single.length; b <= last; b++) normal[from + b]! += met(station, values[b]!);
}

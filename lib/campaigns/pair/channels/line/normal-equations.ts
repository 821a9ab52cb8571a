import { choleskyFactor, choleskySolve } from "../../../../numerics/algebra/cholesky.js";
import { type Design, unknownRows } from "./design.js";
import type { PresentFactors } from "./line-noise.js";
import type { Unknown } from "./line-unknowns.js";

/** Residuals of n stations × q channels and how they are weighted. */
export interface Weighted {
  /** n × q, NaN where missing. */
  readonly raw: Float64Array;
  readonly weight: Float64Array;
  readonly factors: PresentFactors;
  /** Stations for one that is independent. */
  readonly redundancy: number;
}

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
  addStations(data, (station) => {
    for (let a = 0; a < p; a++) {
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
  const values = others.map(unknownRows);
  if (others.length > 0) {
    addStations(data, (station) => {
      for (let k = 0; k < values.length; k++) {
        if (!weigh(station, values[k]!)) continue;
        addUnknown(sums, { design, station, a: known + k });
        for (let b = 0; b <= k; b++) {
          sums.normal[(known + k) * p + known + b]! += met(station, values[b]!);
        }
      }
    });
  }
  for (const [a, { sd }] of unknowns.entries()) sums.normal[a * p + a]! += 1 / sd ** 2;
  return p === 0 ? sums.right : choleskySolve(choleskyFactor(sums.normal, p), p, sums.right);
}

/** One station; columns are written over from one to the next. */
interface Station {
  i: number;
  w: number;
  /** q × q, 0 in rows and columns of missing channels. */
  precision: Float64Array;
  /** q residuals, 0 where missing. */
  readonly datum: Float64Array;
  /** q: the weight matrix times the values of an unknown. */
  readonly weighted: Float64Array;
}

function addStations({ raw, weight, factors, redundancy }: Weighted, add: (at: Station) => void) {
  const q = raw.length / weight.length;
  const columns = { datum: new Float64Array(q), weighted: new Float64Array(q) };
  const station: Station = { i: 0, w: 0, precision: columns.datum, ...columns };
  for (let i = 0; i < weight.length; i++) {
    if (!(weight[i]! > 0)) continue;
    station.precision = factors.at(raw.subarray(i * q, (i + 1) * q)).precision;
    station.i = i;
    station.w = weight[i]! / redundancy;
    for (let c = 0; c < q; c++) station.datum[c] = raw[i * q + c]! || 0;
    add(station);
  }
}

type Values = Design["values"][number];

/** An inner loop. False where the unknown does not enter the station. */
function weigh({ i, w, precision, weighted }: Station, { rows, width, place, channels }: Values) {
  const q = weighted.length;
  const at = i * width + place;
  let enters = false;
  weighted.fill(0);
  for (let k = 0; k < channels.length; k++) {
    const size = w * rows[at + k]!;
    if (size === 0) continue;
    enters = true;
    const from = channels[k]! * q;
    for (let e = 0; e < q; e++) weighted[e]! += size * precision[from + e]!;
  }
  return enters;
}

/** An inner loop: how the weighted unknown meets the values of another. */
function met({ i, weighted }: Station, { rows, width, place, channels }: Values): number {
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
  const { rows, width, channel, single, values } = design;
  const { weighted, datum, i } = station;
  const from = a * right.length;
  let sum = right[a]!;
  for (let e = 0; e < datum.length; e++) sum += weighted[e]! * datum[e]!;
  right[a] = sum;
  const last = Math.min(a, values.length - 1);
  const singles = Math.min(last + 1, single);
  for (let b = 0; b < singles; b++)
    normal[from + b]! += weighted[channel[b]!]! * rows[i * width + b]!;
  for (let b = singles; b <= last; b++) normal[from + b]! += met(station, values[b]!);
}

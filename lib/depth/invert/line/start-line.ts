import { median } from "../../../numerics/statistics/robust.js";
import type { StationForward } from "../station/invert-station.js";
import type { LineData } from "./line-data.js";

/** Start of an inversion: each station's best half-space, and their median as the prior mean. */
export interface LineStart {
  /** n × m ln conductivities. */
  readonly model: Float64Array;
  readonly mean: number;
}

const LOWEST = Math.log(5e-4);
const HIGHEST = Math.log(1);
const STEP = 0.05;
const LEVELS = Math.round((HIGHEST - LOWEST) / STEP) + 1;
const TYPICAL = Math.log(0.03);

/** For every station with data the half-space that fits them best; the median elsewhere. */
export function startOfLine(data: LineData): LineStart {
  const { n, m } = data;
  const tables = new Map<StationForward, Float64Array>();
  const level = new Float64Array(n).fill(Number.NaN);
  for (let i = 0; i < n; i++) {
    if (data.known[i] === 0) continue;
    const forward = data.forward(i);
    let table = tables.get(forward);
    if (table === undefined) {
      table = halfSpaces(forward);
      tables.set(forward, table);
    }
    level[i] = bestLevel(data, i, table);
  }
  const found = median(level);
  const mean = Number.isNaN(found) ? TYPICAL : found;
  const model = new Float64Array(n * m);
  for (let i = 0; i < n; i++) {
    model.fill(Number.isNaN(level[i]!) ? mean : level[i]!, i * m, (i + 1) * m);
  }
  return { model, mean };
}

/** Responses of half-spaces, level by level. */
function halfSpaces(forward: StationForward): Float64Array {
  const { data: c, layers: m } = forward;
  const table = new Float64Array(LEVELS * c);
  const model = new Float64Array(m);
  const jacobian = new Float64Array(c * m);
  for (let k = 0; k < LEVELS; k++) {
    forward.evaluate(model.fill(LOWEST + k * STEP), table.subarray(k * c, (k + 1) * c), jacobian);
  }
  return table;
}

/** Least absolute misfit, with a tenth of the value as deviation; NaN without a datum. */
function bestLevel({ c, value_ppm, sd_ppm }: LineData, i: number, table: Float64Array): number {
  let best = Number.NaN;
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < LEVELS; k++) {
    let cost = 0;
    let count = 0;
    for (let d = 0; d < c; d++) {
      const value = value_ppm[i * c + d]!;
      if (Number.isNaN(value)) continue;
      const sd = Math.hypot(sd_ppm[i * c + d]!, 0.1 * value);
      cost += Math.abs((value - table[k * c + d]!) / sd);
      count += 1;
    }
    if (count > 0 && cost < least) [least, best] = [cost, LOWEST + k * STEP];
  }
  return best;
}

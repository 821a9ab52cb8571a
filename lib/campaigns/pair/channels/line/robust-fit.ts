import { median } from "../../../../numerics/statistics/robust.js";
import { type Design, designOf } from "./design.js";
import { type LineInput, rawResiduals } from "./line-input.js";
import { channelCovariance, PresentFactors } from "./line-noise.js";
import { lineColumns, offsetColumns, type Unknown } from "./line-unknowns.js";
import { type Equations, solved, wholeEquations } from "./normal-equations.js";
import { addOffset, type Offset, refined } from "./offsets.js";
import { type StationData, stationData, type Weighted, weighted } from "./station-data.js";

/** What is common to a line, or to parts of it, found so that changed stretches do not count. */
export interface RobustFit {
  /** Values of the line's unknowns. */
  readonly whole: Float64Array;
  readonly offsets: readonly Offset[];
  readonly residuals: LineResiduals;
}

/** n × q residuals over noise, and the part of the offsets that was taken off. */
export interface LineResiduals {
  readonly n: number;
  readonly q: number;
  readonly residual: Float64Array;
  readonly removed: Float64Array;
}

/** A line as every fit takes it. */
export interface FittedLine {
  readonly input: LineInput;
  readonly design: Design;
  readonly stations: StationData;
}

export function fittedLine(input: LineInput): FittedLine {
  const stations = stationData(rawResiduals(input), input.pair.channels.length);
  return { input, design: designOf(lineColumns(input), stations.n), stations };
}

/** What every fit of a line with the same weights begins with, whatever offsets it tries. */
export interface FitStart extends FittedLine {
  /** n weights of stations, 0 where they do not count. */
  readonly weight: Float64Array;
  readonly first: Round;
}

/** Weights and covariance of one round, and the equations of the whole line's unknowns under them. */
interface Round {
  readonly data: Weighted;
  readonly whole: Equations;
}

export function fitStart(line: FittedLine, weight: Float64Array): FitStart {
  const { raw, q } = line.stations;
  const residual = line.input.level === "majority" ? lessMedians(raw, q, weight) : raw;
  const start = { ...line, weight };
  return { ...start, first: roundOf(start, residual) };
}

function roundOf(
  { input, design, stations, weight: counts }: Omit<FitStart, "first">,
  residual: Float64Array,
): Round {
  const { n, q } = stations;
  const factors = new PresentFactors(channelCovariance({ value: residual, q, weight: counts }), q);
  const spread = smoothSpread({ residual, n, q }, factors, input.pair.spacing_m);
  const typical = median(spread.map((v, i) => (counts[i]! > 0 ? v : Number.NaN))) || 1;
  // Stations for one that is independent.
  const redundancy = Math.max(1, typical);
  const weight = counts.map(
    (w, i) => w / (1 + (spread[i]! || 0) / (4 * typical)) ** 2 / redundancy,
  );
  const data = weighted(stations, factors, weight);
  return { data, whole: wholeEquations(data, design) };
}

interface Tried {
  readonly offsets: readonly Offset[];
  /** Rounds at the most; one at least. */
  readonly rounds: number;
}

/**
 * Least squares with prior, weights and covariance found in turn: the weight of a station is
 * 1 / (1 + v / 4)², v the squared length of the mean residual about it over the line's median.
 */
export function robustFit(start: FitStart, { offsets: tried, rounds }: Tried): RobustFit {
  const { input, design } = start;
  const known = design.unknowns.length;
  let last: Float64Array = new Float64Array();
  for (let [round, offsets, now] = [1, tried, start.first]; ; round++) {
    const own = offsetColumns(input, offsets);
    const fit = solved(now.data, { design, whole: now.whole }, own);
    const hasSettled = [...design.unknowns, ...own].every(
      ({ sd }, a) => !(Math.abs(fit[a]! - last[a]!) > SETTLED * sd),
    );
    last = fit;
    const whole = fit.subarray(0, known);
    offsets = refined(offsets, fit.subarray(known));
    const residuals = residualsOf(input, start.stations.raw, {
      whole,
      columns: design.unknowns,
      offsets,
    });
    if (round >= rounds || (round > 1 && hasSettled)) return { whole, offsets, residuals };
    now = roundOf(start, residuals.residual);
  }
}

/** Rounds end where no unknown moves by more than this share of its prior's deviation. */
const SETTLED = 1e-3;

interface Known {
  readonly whole: Float64Array;
  readonly columns: readonly Unknown[];
  readonly offsets: readonly Offset[];
}

/** The residuals of a fit, on the line that was fitted or on the stations of its means. */
export function residualsOf(
  input: LineInput,
  raw: Float64Array,
  { whole, columns, offsets }: Known,
): LineResiduals {
  const q = input.pair.channels.length;
  const removed = new Float64Array(raw.length);
  for (const one of offsets) addOffset(input, one, removed);
  const residual = raw.map((value, at) => value - removed[at]!);
  for (const [a, unknown] of columns.entries()) takeOff(residual, q, { unknown, size: whole[a]! });
  return { n: raw.length / q, q, residual, removed };
}

/** An inner loop. */
function takeOff(
  residual: Float64Array,
  q: number,
  { unknown, size }: { readonly unknown: Unknown; readonly size: number },
): void {
  const { channels, column } = unknown;
  const k = channels.length;
  for (let j = 0; j < k; j++) {
    const c = channels[j]!;
    for (let i = 0; i * k < column.length; i++) residual[i * q + c]! -= size * column[i * k + j]!;
  }
}

function lessMedians(raw: Float64Array, q: number, weight: Float64Array): Float64Array {
  const out = raw.slice();
  const column = new Float64Array(weight.length);
  for (let c = 0; c < q; c++) {
    for (let i = 0; i < weight.length; i++)
      column[i] = weight[i]! > 0 ? raw[i * q + c]! : Number.NaN;
    const middle = median(column) || 0;
    for (let at = c; at < out.length; at += q) out[at]! -= middle;
  }
  return out;
}

/** Length over which the residuals are averaged to see whether a station belongs to the majority. */
const SMOOTH_M = 20;

/** Squared length of the mean residual about each station over its error, mean of the channels. */
export function smoothSpread(
  { residual, n, q }: Pick<LineResiduals, "residual" | "n" | "q">,
  factors: PresentFactors,
  spacing_m: number,
): Float64Array {
  const reach = Math.max(1, Math.round(SMOOTH_M / 2 / spacing_m));
  const rows = { value: residual, q };
  const work = rowWork(q);
  return Float64Array.from({ length: n }, (_, i) => {
    const { row, count } = meanRow(rows, Math.max(0, i - reach), Math.min(n - 1, i + reach), work);
    const { index, squaredLength } = factors.at(row);
    return index.length === 0 ? Number.NaN : (count * squaredLength(row)) / index.length;
  });
}

interface Rows {
  readonly value: Float64Array;
  readonly q: number;
  readonly weight?: Float64Array;
}

/** What a mean row and its counts are written to. */
interface RowWork {
  readonly row: Float64Array;
  readonly counts: Float64Array;
}

export const rowWork = (q: number): RowWork => ({
  row: new Float64Array(q),
  counts: new Float64Array(q),
});

/**
 * Mean of each column over rows first … last where half of them are present; NaN elsewhere. What is
 * handed in as `work` is written over.
 */
export function meanRow(
  { value, q, weight }: Rows,
  first: number,
  last: number,
  { row, counts }: RowWork = rowWork(q),
) {
  row.fill(0);
  counts.fill(0);
  let all = 0;
  for (let i = first; i <= last; i++) {
    const w = weight === undefined ? 1 : (weight[i] ?? 1);
    all += w;
    for (let c = 0; c < q; c++) {
      const v = value[i * q + c]!;
      if (Number.isNaN(v)) continue;
      row[c]! += w * v;
      counts[c]! += w;
    }
  }
  let count = 0;
  for (let c = 0; c < q; c++) {
    count = Math.max(count, counts[c]!);
    row[c] = counts[c]! > all / 2 ? row[c]! / counts[c]! : Number.NaN;
  }
  return { row, count };
}

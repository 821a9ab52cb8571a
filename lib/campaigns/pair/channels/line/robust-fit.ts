import { itemAt } from "../../../../numerics/arrays.js";
import { median } from "../../../../numerics/statistics/robust.js";
import { type LineInput, rawResiduals } from "./line-input.js";
import { channelCovariance, PresentFactors } from "./line-noise.js";
import { offsetColumns, type Unknown } from "./line-unknowns.js";
import { solved } from "./normal-equations.js";
import { addOffset, type Offset, refined } from "./offsets.js";

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

interface FitSetup {
  /** Unknowns of the whole line. */
  readonly whole: readonly Unknown[];
  /** n weights of stations, 0 where they do not count. */
  readonly weight: Float64Array;
  readonly offsets: readonly Offset[];
  readonly rounds: number;
}

/**
 * Least squares with prior, weights and covariance found in turn: the weight of a station is
 * 1 / (1 + v / 4)², v the squared length of the mean residual about it over the line's median.
 */
export function robustFit(input: LineInput, setup: FitSetup): RobustFit {
  const raw = rawResiduals(input);
  const q = input.pair.channels.length;
  const n = input.pair.chainage_m.length;
  let { offsets } = setup;
  let whole: Float64Array = new Float64Array(setup.whole.length);
  let residuals: LineResiduals = { n, q, residual: raw, removed: new Float64Array(n * q) };
  let last: Float64Array = new Float64Array();
  if (input.level === "majority") {
    residuals = { ...residuals, residual: lessMedians(raw, q, setup.weight) };
  }
  for (let round = 0; round < setup.rounds; round++) {
    const covariance = channelCovariance({ value: residuals.residual, q, weight: setup.weight });
    const factors = new PresentFactors(covariance, q);
    const spread = smoothSpread(residuals, factors, input.pair.spacing_m);
    const typical = median(spread.map((v, i) => (setup.weight[i]! > 0 ? v : Number.NaN))) || 1;
    const weight = setup.weight.map((w, i) => w / (1 + (spread[i]! || 0) / (4 * typical)) ** 2);
    const unknowns = [...setup.whole, ...offsetColumns(input, offsets)];
    const redundancy = Math.max(1, typical);
    const fit = solved({ raw, n, q, weight, factors, unknowns, redundancy });
    const hasSettled = unknowns.every(
      ({ sd }, a) => !(Math.abs(fit[a]! - last[a]!) > SETTLED * sd),
    );
    last = fit;
    whole = fit.subarray(0, setup.whole.length);
    offsets = refined(offsets, fit.subarray(setup.whole.length));
    residuals = residualsOf(input, raw, { whole, columns: setup.whole, offsets });
    if (round > 0 && hasSettled) break;
  }
  return { whole, offsets, residuals };
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
  for (const [a, { column }] of columns.entries()) {
    const size = itemAt(whole, a);
    for (let at = 0; at < residual.length; at++) residual[at]! -= size * column[at]!;
  }
  return { n: raw.length / q, q, residual, removed };
}

function lessMedians(raw: Float64Array, q: number, weight: Float64Array): Float64Array {
  const middle = Array.from(
    { length: q },
    (_, c) => median(raw.filter((_, at) => at % q === c && weight[Math.floor(at / q)]! > 0)) || 0,
  );
  return raw.map((value, at) => value - itemAt(middle, at % q));
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
  return Float64Array.from({ length: n }, (_, i) => {
    const mean = meanRow(
      { value: residual, q },
      Math.max(0, i - reach),
      Math.min(n - 1, i + reach),
    );
    const { index, whiten } = factors.at(mean.row);
    if (index.length === 0) return Number.NaN;
    const white = whiten(mean.row);
    return (mean.count * white.reduce((sum, v) => sum + v * v, 0)) / index.length;
  });
}

/** Mean of each column over rows first … last where half of them are present; NaN elsewhere. */
export function meanRow(
  { value, q, weight }: { value: Float64Array; q: number; weight?: Float64Array },
  first: number,
  last: number,
) {
  const [sum, count] = [new Float64Array(q), new Float64Array(q)];
  let all = 0;
  for (let i = first; i <= last; i++) {
    const w = weight?.[i] ?? 1;
    all += w;
    for (let c = 0; c < q; c++) {
      const v = value[i * q + c]!;
      if (Number.isNaN(v)) continue;
      sum[c]! += w * v;
      count[c]! += w;
    }
  }
  const row = sum.map((total, c) => (count[c]! > all / 2 ? total / count[c]! : Number.NaN));
  return { row, count: Math.max(...count) };
}

import { itemAt } from "../../../../numerics/arrays.js";
import type { DifferenceModel, ModelInput } from "../line/difference-model.js";
import { meanRow } from "../line/robust-fit.js";

/** The mean difference over a stretch and its error: p channels that are present, noise units. */
export interface StretchData {
  /** Numbers of the channels. */
  readonly index: Int32Array;
  readonly value: Float64Array;
  /** p × p. */
  readonly covariance: Float64Array;
  /** p × m: for each ln conductivity. */
  readonly byLayer: Float64Array;
  readonly layers: number;
  /** p each: for coils h higher, first × h + second × h². */
  readonly first: Float64Array;
  readonly second: Float64Array;
  /** p: one ppm. */
  readonly ppm: Float64Array;
  /** p numbers of walks. */
  readonly pass: Int32Array;
}

export interface StretchErrors {
  readonly first: number;
  readonly last: number;
  /** Variance of a mean over the stretch, over that of independent stations. */
  readonly inflation: number;
  /** Standard deviation of the misplacement between campaigns, m. */
  readonly mismatch_m: number;
  /** Standard deviation of the coils' height over a stretch, as one person carries them, m. */
  readonly height_m: number;
  /** Relative error of the effect of an offset that was taken off. */
  readonly offsetError: number;
}

/** Error of a response as a share of it, by channel: gains may be off by 3 %, layers are approximate. */
const RESPONSE_ERROR = 0.05;

export function stretchData(
  input: ModelInput,
  model: DifferenceModel,
  errors: StretchErrors,
): StretchData {
  const { first, last } = errors;
  const { q } = model;
  const weight = stretchWeight(model, errors);
  const mean = (value: Float64Array) => meanRow({ value, q, weight }, 0, last - first);
  const part = (values: Float64Array) => values.subarray(first * q, (last + 1) * q);
  const noise = part(input.noise);
  const { row, count } = mean(part(model.residual));
  const index = Int32Array.from(row.keys()).filter((c) => !Number.isNaN(row[c]!));
  const pick = (full: Float64Array) => Float64Array.from(index, (c) => full[c]!);
  const over = (ppm: Float64Array) =>
    mean(part(ppm).map((v, at) => v / noise[at]!)).row.map((v) => v || 0);
  const value = pick(row);
  const removed = pick(mean(part(model.removed)).row);
  const offsetError = pick(mean(part(model.offsetError)).row);
  const season = pick(over(input.response.seasonError));
  const higher = pick(over(input.response.first));
  const rise = pick(riseAcross(input, errors));
  const p = index.length;
  const stable = model.weight.reduce((sum, w) => sum + w, 0);
  const perStation = 1 / Math.max(1, count) + 1 / Math.max(1, stable);
  const covariance = new Float64Array(p * p).map((_, at) => {
    const [a, b] = [Math.floor(at / p), at % p];
    const noisy = model.covariance[index[a]! * q + index[b]!]! * errors.inflation * perStation;
    const placed = errors.mismatch_m ** 2 * rise[a]! * rise[b]!;
    const offset = errors.offsetError ** 2 * removed[a]! * removed[b]!;
    const own = a === b ? (RESPONSE_ERROR * value[a]!) ** 2 + offsetError[a]! ** 2 : 0;
    const carried = errors.height_m ** 2 * higher[a]! * higher[b]!;
    return noisy + placed + offset + own + carried + season[a]! * season[b]!;
  });
  const { first: byHeight, second, top_m } = input.response;
  return {
    index,
    value,
    covariance,
    byLayer: layerRows(input, index, errors),
    layers: top_m.length,
    first: pick(over(byHeight)),
    second: pick(over(second)),
    ppm: pick(mean(noise.map((sd) => 1 / sd)).row.map((v) => v || 0)),
    pass: index.map((c) => itemAt(input.pair.channels, c).pass),
  };
}

/** Every station of the stretch counts, those that were set to 0 because it changed too. */
const stretchWeight = ({ weight }: DifferenceModel, { first, last }: StretchErrors) =>
  weight.subarray(first, last + 1).map((w) => w || 1);

/** q rises per metre across the stretch, from its first third to its last. */
function riseAcross({ pair, noise }: ModelInput, { first, last }: StretchErrors): Float64Array {
  const q = pair.channels.length;
  const third = Math.max(1, Math.floor((last - first + 1) / 3));
  const [value, span] = [new Float64Array(q), (last - first + 1 - third) * pair.spacing_m];
  for (const [c, { earlier }] of pair.channels.entries()) {
    const mean = (from: number, to: number) => {
      let [sum, count] = [0, 0];
      for (let i = from; i <= to; i++) {
        const v = earlier[i]! / noise[i * q + c]!;
        if (!Number.isNaN(v)) [sum, count] = [sum + v, count + 1];
      }
      return sum / count;
    };
    const rise = mean(last - third + 1, last) - mean(first, first + third - 1);
    value[c] = span > 0 && !Number.isNaN(rise) ? rise / span : 0;
  }
  return value;
}

function layerRows(
  { response, noise, pair }: ModelInput,
  index: Int32Array,
  { first, last }: StretchErrors,
): Float64Array {
  const [q, m] = [pair.channels.length, response.top_m.length];
  const out = new Float64Array(index.length * m);
  for (const [a, c] of index.entries()) {
    let count = 0;
    for (let i = first; i <= last; i++) {
      const sd = noise[i * q + c]!;
      if (Number.isNaN(sd)) continue;
      count++;
      for (let j = 0; j < m; j++) out[a * m + j]! += response.byLayer[(i * q + c) * m + j]! / sd;
    }
    for (let j = 0; j < m; j++) out[a * m + j]! /= Math.max(1, count);
  }
  return out;
}

import { symmetricEigen } from "../../../numerics/algebra/dense.js";
import { dot } from "../../../numerics/algebra/dot.js";
import { itemAt } from "../../../numerics/arrays.js";
import type { ChannelPair } from "./channel-pair.js";
import type { DifferenceModel, ModelInput } from "./difference-model.js";
import { PresentFactors } from "./line-noise.js";

/**
 * Sums along the line of what the test of a stretch needs. A change of the ground moves the
 * channels in a few directions D; r is a station's residual, C its covariance. Then Dᵀ C⁻¹ r and
 * Dᵀ C⁻¹ D, added over stations, give the likelihood ratio of any stretch.
 */
export interface GroundScores {
  readonly n: number;
  /** Directions. */
  readonly k: number;
  /** (n + 1) × k sums up to each station. */
  readonly score: Float64Array;
  /** (n + 1) × k² sums. */
  readonly information: Float64Array;
  /** The same of the offsets that were taken off: what an error of theirs looks like. */
  readonly removed: Float64Array;
  /** (n + 1) × k sums of what the season may be off by. */
  readonly season: Float64Array;
  /** n + 1 sums of the weights. */
  readonly weight: Float64Array;
  /** n × k scores that one metre of misplacement makes at a station, by the slope of the ground. */
  readonly slope: Float64Array;
  /** (n + 1) sums of the standard deviation of the shift, m. */
  readonly shiftSd_m: Float64Array;
}

/** Share of what a change of the ground does that the directions hold. */
const HELD = 0.98;
const MOST = 3;

export function groundScores(
  input: ModelInput,
  model: DifferenceModel,
  prior: Float64Array,
): GroundScores {
  const { n, q } = model;
  const modes = layerModes(input, model, prior);
  const d = (i: number) => modes.map((mode) => directionAt(input, i, mode));
  const weight = stationWeights(model, d);
  const k = modes.length;
  const out = {
    n,
    k,
    score: new Float64Array((n + 1) * k),
    information: new Float64Array((n + 1) * k * k),
    removed: new Float64Array((n + 1) * k),
    season: new Float64Array((n + 1) * k),
    weight: new Float64Array(n + 1),
    slope: new Float64Array(n * k),
    shiftSd_m: new Float64Array(n + 1),
  };
  const slopes = channelSlopes(input.pair, input.noise);
  for (let i = 0; i < n; i++) {
    const row = model.residual.subarray(i * q, (i + 1) * q);
    const { index, whiten } = model.factors.at(row);
    const w = index.length === 0 ? 0 : weight[i]!;
    const [y, off] = [whiten(row), whiten(model.removed.subarray(i * q, (i + 1) * q))];
    const s = whiten(slopes.subarray(i * q, (i + 1) * q));
    const error = whiten(seasonRow(input, i));
    const g = d(i).map(whiten);
    out.weight[i + 1] = out.weight[i]! + w;
    out.shiftSd_m[i + 1] = out.shiftSd_m[i]! + meanShiftSd(input.pair, i);
    for (let a = 0; a < k; a++) {
      const at = (i + 1) * k + a;
      out.score[at] = out.score[at - k]! + (w > 0 ? w * dot(g[a]!, y) : 0);
      out.removed[at] = out.removed[at - k]! + (w > 0 ? w * dot(g[a]!, off) : 0);
      out.season[at] = out.season[at - k]! + (w > 0 ? w * dot(g[a]!, error) : 0);
      out.slope[i * k + a] = w > 0 ? dot(g[a]!, s) : 0;
      for (let b = 0; b < k; b++) {
        const spot = (i + 1) * k * k + a * k + b;
        out.information[spot] =
          out.information[spot - k * k]! + (w > 0 ? w * dot(g[a]!, g[b]!) : 0);
      }
    }
  }
  return out;
}

const seasonRow = ({ response, noise, pair }: ModelInput, i: number) =>
  pair.channels.map((_, c) => {
    const at = i * pair.channels.length + c;
    return response.seasonError[at]! / noise[at]!;
  });

/** What a change of the layers by a mode makes of a station's channels, noise units. */
function directionAt(
  { response, noise, pair }: ModelInput,
  i: number,
  mode: Float64Array,
): Float64Array {
  const [q, m] = [pair.channels.length, mode.length];
  return Float64Array.from({ length: q }, (_, c) => {
    let sum = 0;
    for (let j = 0; j < m; j++) sum += response.byLayer[(i * q + c) * m + j]! * mode[j]!;
    return sum / noise[i * q + c]!;
  });
}

/** k changes of m layers: those that the channels tell best, by the prior of a change. */
function layerModes(
  { response, noise }: ModelInput,
  { n, q, covariance }: DifferenceModel,
  prior: Float64Array,
): readonly Float64Array[] {
  const m = response.top_m.length;
  const mean = new Float64Array(q * m);
  for (let at = 0; at < n * q; at++) {
    const c = at % q;
    if (Number.isNaN(noise[at]!)) continue;
    for (let j = 0; j < m; j++) mean[c * m + j]! += response.byLayer[at * m + j]! / noise[at]! / n;
  }
  const { whiten } = new PresentFactors(covariance, q).at(new Float64Array(q));
  const columns = Array.from({ length: m }, (_, j) =>
    whiten(Float64Array.from({ length: q }, (_, c) => mean[c * m + j]!)),
  );
  const reached = columns.map((_, i) => {
    const sum = new Float64Array(q);
    for (const [j, column] of columns.entries()) {
      for (let a = 0; a < q; a++) sum[a]! += prior[i * m + j]! * column[a]!;
    }
    return sum;
  });
  const moment = new Float64Array(q * q).map((_, at) =>
    columns.reduce((sum, column, i) => sum + column[Math.floor(at / q)]! * reached[i]![at % q]!, 0),
  );
  const { value, vector } = symmetricEigen(moment, q);
  const total = value.reduce((sum, v) => sum + Math.max(0, v), 0);
  const found: Float64Array[] = [];
  let held = 0;
  for (let k = 0; k < Math.min(q, MOST) && held < HELD * total; k++) {
    held += itemAt(value, k);
    const white = Float64Array.from({ length: q }, (_, a) => vector[a * q + k]!);
    found.push(Float64Array.from(reached, (row) => dot(row, white)));
  }
  return found;
}

/** Residuals that no direction explains lower a station's weight from this many noises on. */
const UNEXPLAINED = 3;

function stationWeights(
  model: DifferenceModel,
  directions: (station: number) => readonly Float64Array[],
): Float64Array {
  const { q, residual, weight } = model;
  return weight.map((w, i) => {
    const row = residual.subarray(i * q, (i + 1) * q);
    const { index, whiten } = model.factors.at(row);
    const d = directions(i);
    const dof = index.length - d.length;
    if (!(w > 0) || dof < 1) return w;
    let left = whiten(row);
    for (const one of orthonormal(d.map(whiten))) {
      const share = dot(one, left);
      left = left.map((v, a) => v - share * one[a]!);
    }
    const rms = Math.sqrt(dot(left, left) / dof);
    return w * Math.min(1, UNEXPLAINED / rms) ** 2;
  });
}

function orthonormal(columns: readonly Float64Array[]): readonly Float64Array[] {
  const made: Float64Array[] = [];
  for (const column of columns) {
    let left = column;
    for (const one of made) {
      const share = dot(one, left);
      left = left.map((v, a) => v - share * one[a]!);
    }
    const length = Math.sqrt(dot(left, left));
    if (length > 1e-9) made.push(left.map((v) => v / length));
  }
  return made;
}

/** n × q rises of the readings along the line, per metre, over noise. */
function channelSlopes({ channels, spacing_m }: ChannelPair, noise: Float64Array): Float64Array {
  const q = channels.length;
  return noise.map((sd, at) => {
    const [i, c] = [Math.floor(at / q), at % q];
    const { earlier } = itemAt(channels, c);
    const [before, after] = [Math.max(0, i - 1), Math.min(earlier.length - 1, i + 1)];
    const rise = (earlier[after]! - earlier[before]!) / ((after - before) * spacing_m);
    return Number.isNaN(rise) ? 0 : rise / sd;
  });
}

const meanShiftSd = ({ channels }: ChannelPair, i: number) =>
  channels.reduce((sum, { shiftSd_m }) => sum + itemAt(shiftSd_m, i), 0) / channels.length;

import { dot } from "../../../../numerics/algebra/dot.js";
import { itemAt } from "../../../../numerics/arrays.js";
import type { ChannelPair } from "../channel-pair.js";
import type { DifferenceModel, ModelInput } from "../line/difference-model.js";
import { layerModes } from "./layer-modes.js";
import { stationWeights } from "./station-weights.js";

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
  /** (n + 1) × k sums of what coils a metre higher make. */
  readonly height: Float64Array;
  /** (n + 1) × k sums of what the season may be off by. */
  readonly season: Float64Array;
  /** n + 1 sums of the weights. */
  readonly weight: Float64Array;
  /** n × k scores that one metre of misplacement makes at a station, by the slope of the ground. */
  readonly slope: Float64Array;
  /** (n + 1) sums of the standard deviation of the shift, m. */
  readonly shiftSd_m: Float64Array;
}

export function groundScores(
  input: ModelInput,
  model: DifferenceModel,
  prior: Float64Array,
): GroundScores {
  const { n, q } = model;
  const modes = layerModes(input, model, prior);
  const d = (i: number) => modes.map((mode) => directionAt(input, i, mode));
  const weight = stationWeights(input.quality, model, d);
  const k = modes.length;
  const out = {
    n,
    k,
    score: new Float64Array((n + 1) * k),
    information: new Float64Array((n + 1) * k * k),
    removed: new Float64Array((n + 1) * k),
    height: new Float64Array((n + 1) * k),
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
    const error = whiten(rowOf(input, input.response.seasonError, i));
    const higher = whiten(rowOf(input, input.response.first, i));
    const g = d(i).map(whiten);
    out.weight[i + 1] = out.weight[i]! + w;
    out.shiftSd_m[i + 1] = out.shiftSd_m[i]! + meanShiftSd(input.pair, i);
    for (let a = 0; a < k; a++) {
      const at = (i + 1) * k + a;
      out.score[at] = out.score[at - k]! + (w > 0 ? w * dot(g[a]!, y) : 0);
      out.removed[at] = out.removed[at - k]! + (w > 0 ? w * dot(g[a]!, off) : 0);
      out.height[at] = out.height[at - k]! + (w > 0 ? w * dot(g[a]!, higher) : 0);
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

/** A station's row of n × q ppm, over its noise. */
const rowOf = ({ noise, pair }: ModelInput, ppm: Float64Array, i: number) =>
  pair.channels.map((_, c) => {
    const at = i * pair.channels.length + c;
    return ppm[at]! / noise[at]!;
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

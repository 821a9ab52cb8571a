import { dot } from "../../../../numerics/algebra/dot.js";
import { itemAt } from "../../../../numerics/arrays.js";
import type { ChannelPair } from "../channel-pair.js";
import type { DifferenceModel, ModelInput } from "../line/difference-model.js";
import { projections } from "./projections.js";

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
  /** (n + 1) × qk sums of what the effect of these may be off by, channel by channel. */
  readonly offsetError: Float64Array;
  readonly q: number;
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
  const { k, at } = projections(input, model, prior);
  const out = emptyScores(n, k, q);
  const slopes = channelSlopes(input.pair, input.noise);
  const information = new Float64Array(k * k);
  const over = new Float64Array(q);
  const errors = new Float64Array(q);
  const byChannel = new Float64Array(q * k);
  for (let i = 0; i < n; i++) {
    const rowOf = (values: Float64Array) => values.subarray(i * q, (i + 1) * q);
    const overNoise = (ppm: Float64Array) => {
      for (let c = 0; c < q; c++) over[c] = ppm[i * q + c]! / input.noise[i * q + c]!;
      return over;
    };
    const { weight: w, white, directions, precision, scoreOf } = at(i);
    out.weight[i + 1] = out.weight[i]! + w;
    out.shiftSd_m[i + 1] = out.shiftSd_m[i]! + meanShiftSd(input.pair, i);
    run(out.score, i, scoreOf(rowOf(model.residual)));
    run(out.removed, i, scoreOf(rowOf(model.removed)));
    run(out.height, i, scoreOf(overNoise(input.response.first)));
    run(out.season, i, scoreOf(overNoise(input.response.seasonError)));
    for (let a = 0; a < k * k; a++) {
      information[a] = w > 0 ? w * dot(white[Math.floor(a / k)]!, white[a % k]!) : 0;
    }
    run(out.information, i, information);
    for (const [a, v] of scoreOf(rowOf(slopes)).entries()) out.slope[i * k + a] = w > 0 ? v / w : 0;
    for (let c = 0; c < q; c++) errors[c] = w * model.offsetError[i * q + c]! || 0;
    fillChannelScores(byChannel, errors, { directions, precision });
    run(out.offsetError, i, byChannel);
  }
  return out;
}

function emptyScores(n: number, k: number, q: number): GroundScores {
  const sumsOf = (width: number) => new Float64Array((n + 1) * width);
  return {
    n,
    k,
    q,
    score: sumsOf(k),
    information: sumsOf(k * k),
    removed: sumsOf(k),
    offsetError: sumsOf(q * k),
    height: sumsOf(k),
    season: sumsOf(k),
    weight: sumsOf(1),
    shiftSd_m: sumsOf(1),
    slope: new Float64Array(n * k),
  };
}

/** Adds station i to running sums of as many columns as there are values. */
export function run(sums: Float64Array, i: number, values: ArrayLike<number>): void {
  const width = values.length;
  for (let a = 0; a < width; a++) {
    sums[(i + 1) * width + a] = sums[i * width + a]! + values[a]!;
  }
}

interface Seen {
  /** k × q. */
  readonly directions: Float64Array;
  readonly precision: Float64Array;
}

/** Fills for each of q channels the k scores that its error alone makes. */
function fillChannelScores(
  out: Float64Array,
  errors: Float64Array,
  { directions, precision }: Seen,
): void {
  const q = errors.length;
  const k = directions.length / q;
  for (let c = 0; c < q; c++) {
    for (let a = 0; a < k; a++) {
      let sum = 0;
      if (errors[c] !== 0) {
        for (let e = 0; e < q; e++) sum += directions[a * q + e]! * precision[c * q + e]!;
      }
      out[c * k + a] = errors[c]! * sum;
    }
  }
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

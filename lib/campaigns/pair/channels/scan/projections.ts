import { dot } from "../../../../numerics/algebra/dot.js";
import type { DifferenceModel, ModelInput } from "../line/difference-model.js";
import { layerModes } from "./layer-modes.js";
import { stationWeights } from "./station-weights.js";

/** How a station's channels are taken to the k directions in which a change of the ground moves them. */
export interface Projection {
  /** 0 where the station does not count. */
  readonly weight: number;
  /** k × q, noise units, and k of q, the same whitened. */
  readonly directions: Float64Array;
  readonly white: readonly Float64Array[];
  /** q × q inverse covariance of the channels that are present. */
  readonly precision: Float64Array;
  /** k scores of a row of q: weight × Dᵀ C⁻¹ row. */
  readonly scoreOf: (row: Float64Array) => Float64Array;
}

export interface Projections {
  readonly k: number;
  /** What it gives, scores too, is written over by the next call: stations are many. */
  readonly at: (station: number) => Projection;
}

export function projections(
  input: ModelInput,
  model: DifferenceModel,
  prior: Float64Array,
): Projections {
  const { q, residual, factors } = model;
  const modes = layerModes(input, model, prior);
  const k = modes.length;
  const directions = directionsAlong(input, modes);
  const weights = stationWeights(input.quality, model, directions);
  const white = modes.map(() => new Float64Array(q));
  const [whitened, scores] = [new Float64Array(q), new Float64Array(k)];
  const at = (i: number): Projection => {
    const { index, whiten, precision } = factors.at(residual.subarray(i * q, (i + 1) * q));
    const weight = index.length === 0 ? 0 : weights[i]!;
    const own = directions.subarray(i * k * q, (i + 1) * k * q);
    for (let a = 0; a < k; a++) whiten(own.subarray(a * q, (a + 1) * q), white[a]);
    const scoreOf = (row: Float64Array) => {
      whiten(row, whitened);
      for (let a = 0; a < k; a++) scores[a] = weight > 0 ? weight * dot(white[a]!, whitened) : 0;
      return scores;
    };
    return { weight, directions: own, white, precision, scoreOf };
  };
  return { k, at };
}

/** n × k × q: what a change of the layers by a mode makes of channels, noise units; 0 where missing. */
function directionsAlong(
  { response, noise, pair }: ModelInput,
  modes: readonly Float64Array[],
): Float64Array {
  const [q, k, m] = [pair.channels.length, modes.length, response.top_m.length];
  const out = new Float64Array(noise.length * k);
  for (let at = 0; at < noise.length; at++) {
    const i = Math.floor(at / q);
    for (let a = 0; a < k; a++) {
      const mode = modes[a]!;
      let sum = 0;
      for (let j = 0; j < m; j++) sum += response.byLayer[at * m + j]! * mode[j]!;
      out[(i * k + a) * q + (at % q)] = sum / noise[at]! || 0;
    }
  }
  return out;
}

import { dot } from "../../../../numerics/algebra/dot.js";
import type { DifferenceModel, ModelInput } from "../line/difference-model.js";
import { layerModes } from "./layer-modes.js";
import { stationWeights } from "./station-weights.js";

/** How a station's channels are taken to the k directions in which a change of the ground moves them. */
export interface Projection {
  /** 0 where the station does not count. */
  readonly weight: number;
  /** k of q, noise units, and the same whitened. */
  readonly directions: readonly Float64Array[];
  readonly white: readonly Float64Array[];
  /** q × q inverse covariance of the channels that are present. */
  readonly precision: Float64Array;
  /** k scores of a row of q: weight × Dᵀ C⁻¹ row. */
  readonly scoreOf: (row: Float64Array) => readonly number[];
}

export interface Projections {
  readonly k: number;
  readonly at: (station: number) => Projection;
}

export function projections(
  input: ModelInput,
  model: DifferenceModel,
  prior: Float64Array,
): Projections {
  const { n, q, residual, factors } = model;
  const modes = layerModes(input, model, prior);
  const directions = Array.from({ length: n }, (_, i) =>
    modes.map((mode) => directionAt(input, i, mode)),
  );
  const weights = stationWeights(input.quality, model, (i) => directions[i]!);
  const at = (i: number): Projection => {
    const { index, whiten, precision } = factors.at(residual.subarray(i * q, (i + 1) * q));
    const weight = index.length === 0 ? 0 : weights[i]!;
    const white = directions[i]!.map(whiten);
    const scoreOf = (row: Float64Array) => {
      const whitened = whiten(row);
      return white.map((one) => (weight > 0 ? weight * dot(one, whitened) : 0));
    };
    return { weight, directions: directions[i]!, white, precision, scoreOf };
  };
  return { k: modes.length, at };
}

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

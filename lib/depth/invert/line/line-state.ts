import { correlations, type LinePrior, timesPrecision, toModel } from "../../prior/line-prior.js";
import type { LineData } from "./line-data.js";

/** A point in the unknowns of a line, with the responses and the cost there. */
export interface LineState {
  /** n × q unknowns of unit prior variance, row by station: layers, then the walks' errors. */
  readonly u: Float64Array;
  /** b whitened errors of the channels' gains and then zeros, of unit prior variance. */
  readonly channel: Float64Array;
  /** n × m ln conductivities. */
  readonly model: Float64Array;
  /** n × c responses without channel errors, ppm. */
  readonly response_ppm: Float64Array;
  /** n × c × m derivatives to ln conductivity, ppm. */
  readonly jacobian_ppm: Float64Array;
  /** |residual|² with its robust loss + ξᵀQξ + |channel errors|². */
  readonly cost: number;
}

/** What the posterior is conditioned on: the prior of a line and the noise of its channels. */
export interface Hyperparameters {
  readonly prior: LinePrior;
  /** Prior mean of ln conductivity. */
  readonly mean: number;
  /** c factors on each channel's stated standard deviations. */
  readonly noiseScale: Float64Array;
}

/** Residuals beyond so many deviations have bounded influence (Huber 1964). */
export const HUBER = 3;

/** Evaluates responses and derivatives at every known station. */
export async function lineState(
  data: LineData,
  hyper: Hyperparameters,
  unknowns: Pick<LineState, "u" | "channel">,
  breathe: (station: number) => Promise<void> | null,
): Promise<LineState> {
  const { n, c, m, q } = data;
  const model = toModel(hyper.prior.layers, hyper.mean, { u: unknowns.u, q });
  const response_ppm = new Float64Array(n * c);
  const jacobian_ppm = new Float64Array(n * c * m);
  for (let i = 0; i < n; i++) {
    const pause = breathe(i);
    if (pause !== null) await pause;
    if (data.known[i] === 0) continue;
    data
      .forward(i)
      .evaluate(
        model.subarray(i * m, (i + 1) * m),
        response_ppm.subarray(i * c, (i + 1) * c),
        jacobian_ppm.subarray(i * c * m, (i + 1) * c * m),
      );
  }
  const state = { ...unknowns, model, response_ppm, jacobian_ppm };
  return { ...state, cost: costOf(data, hyper, state) };
}

/**
 * (value − (1 + gain error + the walk's error there) × response − zero error) / deviation; NaN where
 * there is no datum.
 */
export function residualAt(
  data: LineData,
  hyper: Hyperparameters,
  state: Pick<LineState, "u" | "channel" | "response_ppm">,
): (station: number, channel: number) => number {
  const { c, m, q, gainSd, walk, walkSd, value_ppm, sd_ppm } = data;
  return (i, d) => {
    const at = i * c + d;
    const walkError = walkSd > 0 ? walkSd * state.u[i * q + m + walk[d]!]! : 0;
    const gain = 1 + gainSd[d]! * state.channel[d]! + walkError;
    const shift = zeroOf(data, state, d);
    const sd = sd_ppm[at]! * hyper.noiseScale[d]!;
    return (value_ppm[at]! - gain * state.response_ppm[at]! - shift) / sd;
  };
}

/** The error of a channel's zero, ppm. */
export function zeroOf(data: LineData, { channel }: Pick<LineState, "channel">, d: number): number {
  return data.b > data.c ? data.shiftSd_ppm[d]! * channel[data.c + d]! : 0;
}

/** Huber's weight of a residual of so many deviations. */
export function huberWeight(residual: number): number {
  const size = Math.abs(residual);
  return size > HUBER ? HUBER / size : 1;
}

/** A tie's residual over its deviation. */
export function tieResidual(tie: LineData["ties"][number], model: Float64Array, m: number): number {
  const found = tie.weights.reduce((sum, w, j) => sum + w * model[tie.station * m + j]!, 0);
  return (tie.lnConductivity - found) / tie.sd;
}

function costOf(data: LineData, hyper: Hyperparameters, state: Omit<LineState, "cost">): number {
  const { n, c, m } = data;
  const residual = residualAt(data, hyper, state);
  let cost = 0;
  for (let i = 0; i < n; i++) {
    if (data.known[i] === 0) continue;
    for (let d = 0; d < c; d++) {
      const size = Math.abs(residual(i, d));
      if (Number.isNaN(size)) continue;
      cost += size > HUBER ? HUBER * (2 * size - HUBER) : size * size;
    }
  }
  for (const tie of data.ties) cost += tieResidual(tie, state.model, m) ** 2;
  const gradient = timesPrecision(state.u, correlations(hyper.prior, data));
  for (let k = 0; k < gradient.length; k++) cost += gradient[k]! * state.u[k]!;
  for (const value of state.channel) cost += value * value;
  return cost;
}

import { correlations, type LinePrior, timesPrecision, toModel } from "../../prior/line-prior.js";
import type { LineData } from "./line-data.js";

/** A point in the unknowns of a line, with the responses and the cost there. */
export interface LineState {
  readonly data: LineData;
  readonly hyper: Hyperparameters;
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
  const state = { data, hyper, ...unknowns, model, response_ppm, jacobian_ppm };
  return { ...state, cost: costOf(state) };
}

/**
 * (value − (1 + gain error + the walk's error there) × response − zero error) / deviation; NaN
 * where there is no datum.
 */
export function residualAt(state: Point, i: number, d: number): number {
  const { value_ppm, c } = state.data;
  const fitted = gainOf(state, i, d) * state.response_ppm[i * c + d]!;
  return (value_ppm[i * c + d]! - fitted - zeroOf(state, d)) / deviationOf(state, i, d);
}

type Point = Omit<LineState, "cost">;

/** Calls with each datum that there is: its station, its channel, its residual. */
export function forEachDatum(
  state: Point,
  call: (i: number, d: number, residual: number) => void,
): void {
  const { n, c, known } = state.data;
  for (let i = 0; i < n; i++) {
    if (known[i] === 0) continue;
    for (let d = 0; d < c; d++) {
      const residual = residualAt(state, i, d);
      if (!Number.isNaN(residual)) call(i, d, residual);
    }
  }
}

/** A datum's standard deviation, ppm, by its channel's noise scale. */
export function deviationOf({ data, hyper }: Point, i: number, d: number): number {
  return data.sd_ppm[i * data.c + d]! * hyper.noiseScale[d]!;
}

/** The factor on a channel's response at a station: its gain and the walk's error there. */
export function gainOf({ data, u, channel }: Point, i: number, d: number): number {
  const { m, q, gainSd, walk, walkSd } = data;
  const walkError = walkSd > 0 ? walkSd * u[i * q + m + walk[d]!]! : 0;
  return 1 + gainSd[d]! * channel[d]! + walkError;
}

/** The error of a channel's zero, ppm. */
export function zeroOf({ data, channel }: Point, d: number): number {
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

function costOf(state: Point): number {
  const { data, hyper, model, u, channel } = state;
  let cost = 0;
  forEachDatum(state, (_i, _d, residual) => {
    const size = Math.abs(residual);
    cost += size > HUBER ? HUBER * (2 * size - HUBER) : size * size;
  });
  for (const tie of data.ties) cost += tieResidual(tie, model, data.m) ** 2;
  const gradient = timesPrecision(u, correlations(hyper.prior, data));
  for (let k = 0; k < gradient.length; k++) cost += gradient[k]! * u[k]!;
  for (const value of channel) cost += value * value;
  return cost;
}

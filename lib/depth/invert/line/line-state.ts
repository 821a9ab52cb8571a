import { correlations, type LinePrior, timesPrecision, toModel } from "../../prior/line-prior.js";
import type { LineData } from "./line-data.js";

/** Where an inversion of a line stands: whitened unknowns and what they explain. */
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

/** The prior of a line and what its data are believed to be worth. */
export interface LineBelief {
  readonly prior: LinePrior;
  /** Mean of ln conductivity before the data. */
  readonly mean: number;
  /** c factors by which each channel's stated deviations are to be multiplied. */
  readonly noiseScale: Float64Array;
}

/** Beyond so many deviations a datum's pull grows no more (Huber 1964). */
export const HUBER = 3;

/** Evaluates responses and derivatives at every known station. */
export async function lineState(
  data: LineData,
  belief: LineBelief,
  unknowns: Pick<LineState, "u" | "channel">,
  breathe: (station: number) => Promise<void> | null,
): Promise<LineState> {
  const { n, c, m, q } = data;
  const model = toModel(belief.prior.layers, belief.mean, { u: unknowns.u, q });
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
  return { ...state, cost: costOf(data, belief, state) };
}

/** (value − (1 + gain error + the walk's error there) response − zero error) / deviation; NaN where there is no datum. */
export function residualAt(
  data: LineData,
  belief: LineBelief,
  state: Pick<LineState, "u" | "channel" | "response_ppm">,
): (station: number, channel: number) => number {
  const { c, m, q, gainSd, walk, walkSd, value_ppm, sd_ppm } = data;
  return (i, d) => {
    const at = i * c + d;
    const own = walkSd > 0 ? walkSd * state.u[i * q + m + walk[d]!]! : 0;
    const gain = 1 + gainSd[d]! * state.channel[d]! + own;
    const shift = zeroOf(data, state, d);
    const sd = sd_ppm[at]! * belief.noiseScale[d]!;
    return (value_ppm[at]! - gain * state.response_ppm[at]! - shift) / sd;
  };
}

/** The error of a channel's zero, ppm. */
export function zeroOf(data: LineData, { channel }: Pick<LineState, "channel">, d: number): number {
  return data.b > data.c ? data.shiftSd_ppm[d]! * channel[data.c + d]! : 0;
}

/** The weight that a residual of so many deviations keeps. */
export function huberWeight(residual: number): number {
  const size = Math.abs(residual);
  return size > HUBER ? HUBER / size : 1;
}

/** What is left of a tie, in deviations. */
export function tieResidual(tie: LineData["ties"][number], model: Float64Array, m: number): number {
  const found = tie.weights.reduce((sum, w, j) => sum + w * model[tie.station * m + j]!, 0);
  return (tie.lnConductivity - found) / tie.sd;
}

function costOf(data: LineData, belief: LineBelief, state: Omit<LineState, "cost">): number {
  const { n, c, m } = data;
  const residual = residualAt(data, belief, state);
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
  const forces = timesPrecision(state.u, correlations(belief.prior, data));
  for (let k = 0; k < forces.length; k++) cost += forces[k]! * state.u[k]!;
  for (const value of state.channel) cost += value * value;
  return cost;
}

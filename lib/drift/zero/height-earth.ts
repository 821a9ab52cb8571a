import { layeredResponse } from "../../earth/coil-response.js";
import { lowInductionQuadrature } from "../../earth/half-space.js";
import { choleskyFactor, choleskySolve } from "../../numerics/cholesky.js";
import type { Channel } from "../../survey/survey.js";

/** One channel's reading at one height, made ready. */
export interface HeightDatum {
  /** Index of the channel. */
  readonly c: number;
  readonly height_m: number;
  readonly value: number;
  /** Standard deviation of the value. */
  readonly sd: number;
}

/** Logarithms of the conductivity of one or two layers, S/m, and of the upper one's thickness, m. */
export type LogEarth = readonly number[];

/** An earth under the spot and each channel's zero level, by least squares. */
export interface HeightFit {
  readonly earth: LogEarth;
  /** For each channel, offset and its standard error, channel's unit. */
  readonly offset: Float64Array;
  readonly error: Float64Array;
  /** Sum of squares in standard deviations, the weak prior included. */
  readonly cost: number;
}

/** Ordinary ground, so that what the readings cannot tell stays sensible: ln S/m and ln m. */
const PRIOR = { conductivity: [Math.log(0.03), 1.5], thickness: [Math.log(1.5), 1] } as const;
const NUDGE = 1e-3;
const ROUNDS = 30;

export function earthOf(log: LogEarth) {
  const values = log.map(Math.exp);
  return log.length === 1
    ? { conductivity_S_per_m: values, thickness_m: [] }
    : { conductivity_S_per_m: values.slice(0, 2), thickness_m: values.slice(2) };
}

/** What a channel shows over the earth, in its unit. */
export function channelOver(channel: Channel, height_m: number, log: LogEarth): number {
  const { orientation, separation_m, frequency_Hz } = channel;
  const coils = { orientation, separation_m, frequency_Hz, height_m };
  const { inphase_ppm, quadrature_ppm } = layeredResponse(earthOf(log), coils);
  if (channel.kind === "inphase") return inphase_ppm;
  return channel.kind === "quadrature"
    ? quadrature_ppm
    : quadrature_ppm / lowInductionQuadrature(1e-3, coils);
}

/** The best of several starts, each improved by damped Gauss–Newton steps. */
export function fitEarth(
  data: readonly HeightDatum[],
  channels: readonly Channel[],
  starts: readonly LogEarth[],
): HeightFit {
  const tried = starts.map((start) => ({ start, cost: judge(data, channels, start).cost }));
  const best = tried.reduce((a, b) => (b.cost < a.cost ? b : a)).start;
  let earth = best;
  let state = judge(data, channels, earth);
  let damping = 1e-2;
  for (let round = 0; round < ROUNDS && damping < 1e6; round++) {
    const step = stepFrom(data, channels, { earth, damping });
    const next = earth.map((value, k) => value + Math.max(-1, Math.min(1, step[k]!)));
    const judged = judge(data, channels, next);
    if (judged.cost < state.cost) {
      const gained = state.cost - judged.cost;
      [earth, state, damping] = [next, judged, damping / 5];
      if (gained < 1e-9 * (1 + state.cost)) break;
    } else damping *= 4;
  }
  return { earth, offset: state.offset, error: errorsAt(data, channels, earth), cost: state.cost };
}

function priorOf(earth: LogEarth, k: number): readonly [middle: number, sd: number] {
  return earth.length > 1 && k === earth.length - 1 ? PRIOR.thickness : PRIOR.conductivity;
}

/** Residuals with the best offsets taken off, and their cost. */
function judge(data: readonly HeightDatum[], channels: readonly Channel[], earth: LogEarth) {
  const rest = data.map(({ c, height_m, value }) => {
    return value - channelOver(channels[c]!, height_m, earth);
  });
  const offset = means(data, channels, rest);
  let cost = 0;
  for (const [i, { c, sd }] of data.entries()) cost += ((rest[i]! - offset[c]!) / sd) ** 2;
  for (const [k, value] of earth.entries()) {
    const [middle, sd] = priorOf(earth, k);
    cost += ((value - middle) / sd) ** 2;
  }
  return { rest, offset, cost };
}

/** For each channel the mean weighted by 1 / sd²; 0 without data. */
function means(
  data: readonly HeightDatum[],
  channels: readonly Channel[],
  values: readonly number[],
): Float64Array {
  const sum = new Float64Array(channels.length);
  const weight = new Float64Array(channels.length);
  for (const [i, { c, sd }] of data.entries()) {
    sum[c]! += values[i]! / sd ** 2;
    weight[c]! += 1 / sd ** 2;
  }
  return sum.map((one, c) => (weight[c]! > 0 ? one / weight[c]! : 0));
}

/** For each unknown of the earth, its derivative in each datum. */
function derivatives(
  data: readonly HeightDatum[],
  channels: readonly Channel[],
  earth: LogEarth,
): readonly (readonly number[])[] {
  return earth.map((_, k) => {
    const moved = (by: number) => earth.map((value, j) => (j === k ? value + by : value));
    const [up, down] = [moved(NUDGE), moved(-NUDGE)];
    return data.map(({ c, height_m }) => {
      const rise = channelOver(channels[c]!, height_m, up);
      return (rise - channelOver(channels[c]!, height_m, down)) / (2 * NUDGE);
    });
  });
}

/** Precision of the earth's unknowns, offsets taken as unknown too, and the slopes behind it. */
function precisionAt(data: readonly HeightDatum[], channels: readonly Channel[], earth: LogEarth) {
  const slopes = derivatives(data, channels, earth);
  const mean = slopes.map((slope) => means(data, channels, slope));
  const own = slopes.map((slope, k) => slope.map((one, i) => one - mean[k]![data[i]!.c]!));
  const p = earth.length;
  const precision = new Float64Array(p * p);
  for (let a = 0; a < p; a++) {
    for (let b = 0; b < p; b++) {
      for (const [i, { sd }] of data.entries()) {
        precision[a * p + b]! += (own[a]![i]! * own[b]![i]!) / sd ** 2;
      }
    }
    precision[a * p + a]! += 1 / priorOf(earth, a)[1] ** 2;
  }
  return { precision, own, mean };
}

function stepFrom(
  data: readonly HeightDatum[],
  channels: readonly Channel[],
  { earth, damping }: { readonly earth: LogEarth; readonly damping: number },
): Float64Array {
  const { precision, own } = precisionAt(data, channels, earth);
  const { rest } = judge(data, channels, earth);
  const p = earth.length;
  const right = Float64Array.from(earth, (value, k) => {
    const [middle, sd] = priorOf(earth, k);
    const pull = (middle - value) / sd ** 2;
    return data.reduce((sum, one, i) => sum + (own[k]![i]! * rest[i]!) / one.sd ** 2, pull);
  });
  for (let k = 0; k < p; k++) precision[k * p + k]! *= 1 + damping;
  return choleskySolve(choleskyFactor(precision, p), p, right);
}

/** An offset is known to the error of its mean, and to what the earth leaves open. */
function errorsAt(
  data: readonly HeightDatum[],
  channels: readonly Channel[],
  earth: LogEarth,
): Float64Array {
  const { precision, mean } = precisionAt(data, channels, earth);
  const p = earth.length;
  const root = choleskyFactor(precision, p);
  return Float64Array.from(channels, (_, c) => {
    const weight = data.reduce((sum, one) => sum + (one.c === c ? 1 / one.sd ** 2 : 0), 0);
    if (!(weight > 0)) return Number.NaN;
    const slope = Float64Array.from(mean, (one) => one[c]!);
    const open = choleskySolve(root, p, slope).reduce((sum, one, k) => sum + one * slope[k]!, 0);
    return Math.sqrt(1 / weight + open);
  });
}

import { positiveDefinite } from "../../numerics/algebra/dense.js";
import { entryOf, itemAt, zipped } from "../../numerics/arrays.js";
import type { Channel } from "../../survey/survey.js";
import type { HeightDatum } from "./height-data.js";
import { derivativesAt, type LogGround, priorsOf, responseAt } from "./layered-ground.js";

/** The ground under the spot and each channel's zero level: the maximum a posteriori (MAP). */
export interface GroundFit {
  readonly ground: LogGround;
  /** One for each channel of the data, in their order. */
  readonly offsets: readonly ZeroOffset[];
  /** Sum of squares in standard deviations, the prior's included. */
  readonly cost: number;
}

/** What a channel shows where there is no ground: to be taken off its readings. */
export interface ZeroOffset {
  readonly channel: string;
  readonly offset: number;
  readonly error: number;
}

const ROUNDS = 30;

/** The best of several starts, improved by damped Gauss-Newton steps. */
export function fitGround(data: readonly HeightDatum[], starts: readonly LogGround[]): GroundFit {
  const [first, ...others] = starts.map((start) => stateAt(data, start));
  if (first === undefined) throw new RangeError("a fit needs a start");
  let state = others.reduce((a, b) => (b.cost < a.cost ? b : a), first);
  let damping = 1e-2;
  for (let round = 0; round < ROUNDS && damping < 1e6; round++) {
    const step = stepFrom(data, state, damping);
    const next = state.ground.map((value, k) => value + Math.max(-1, Math.min(1, itemAt(step, k))));
    const tried = stateAt(data, next);
    if (tried.cost < state.cost) {
      const gained = state.cost - tried.cost;
      const isDone = gained < 1e-9 * (1 + state.cost);
      [state, damping] = [tried, damping / 5];
      if (isDone) break;
    } else damping *= 4;
  }
  return { ground: state.ground, offsets: offsetsAt(data, state), cost: state.cost };
}

interface State {
  readonly ground: LogGround;
  /** For each datum, what the ground does not explain; the best offset is still in it. */
  readonly residuals: readonly number[];
  readonly cost: number;
}

function stateAt(data: readonly HeightDatum[], ground: LogGround): State {
  const residuals = data.map((one) => one.value - responseAt(one, ground));
  const misfit = zipped(data, centred(data, residuals)).map(([{ sd }, one]) => one / sd);
  const prior = zipped(ground, priorsOf(ground)).map(
    ([value, { mean, sd }]) => (value - mean) / sd,
  );
  const cost = [...misfit, ...prior].reduce((sum, one) => sum + one ** 2, 0);
  return { ground, residuals, cost };
}

/** Values less the mean of their channel, weighted by 1 / sd². */
function centred(data: readonly HeightDatum[], values: readonly number[]): readonly number[] {
  const means = new Map(channelMeans(data, values).map(({ channel, mean }) => [channel, mean]));
  return zipped(data, values).map(([{ channel }, value]) => value - entryOf(means, channel));
}

interface ChannelMean {
  readonly channel: Channel;
  readonly mean: number;
  /** Sum of 1 / sd². */
  readonly weight: number;
}

function channelMeans(
  data: readonly HeightDatum[],
  values: readonly number[],
): readonly ChannelMean[] {
  const sums = new Map<Channel, { sum: number; weight: number }>();
  for (const [{ channel, sd }, value] of zipped(data, values)) {
    const own = sums.get(channel) ?? { sum: 0, weight: 0 };
    sums.set(channel, { sum: own.sum + value / sd ** 2, weight: own.weight + 1 / sd ** 2 });
  }
  return [...sums].map(([channel, { sum, weight }]) => ({ channel, mean: sum / weight, weight }));
}

/** Posterior precision of the ground, p × p, offsets eliminated, and the derivatives behind it. */
function precisionAt(data: readonly HeightDatum[], ground: LogGround) {
  const slopes = derivativesAt(data, ground);
  const own = slopes.map((slope) => centred(data, slope));
  const p = ground.length;
  const weights = data.map(({ sd }) => 1 / sd ** 2);
  const precision = Float64Array.from(
    own.flatMap((one) => own.map((two) => inner(one, two, weights))),
  );
  for (const [k, { sd }] of priorsOf(ground).entries()) precision[k * (p + 1)]! += 1 / sd ** 2;
  return { precision, own, slopes, weights };
}

function inner(one: readonly number[], two: readonly number[], weights: readonly number[]): number {
  return weights.reduce((sum, weight, i) => sum + itemAt(one, i) * itemAt(two, i) * weight, 0);
}

function stepFrom(
  data: readonly HeightDatum[],
  { ground, residuals }: State,
  damping: number,
): Float64Array {
  const { precision, own, weights } = precisionAt(data, ground);
  const p = ground.length;
  const pulls = zipped(ground, priorsOf(ground)).map(
    ([value, { mean, sd }]) => (mean - value) / sd ** 2,
  );
  const right = Float64Array.from(zipped(own, pulls), ([slope, pull]) => {
    return pull + inner(slope, residuals, weights);
  });
  for (let k = 0; k < p; k++) precision[k * (p + 1)]! *= 1 + damping;
  return positiveDefinite(precision, p).solve(right);
}

/** An offset has the error of its channel's mean, and that of the ground's part in it. */
function offsetsAt(data: readonly HeightDatum[], { ground, residuals }: State) {
  const { precision, slopes } = precisionAt(data, ground);
  const { solve } = positiveDefinite(precision, ground.length);
  const means = slopes.map((slope) => channelMeans(data, slope));
  return channelMeans(data, residuals).map(({ channel, mean, weight }, c): ZeroOffset => {
    const slope = Float64Array.from(means, (one) => itemAt(one, c).mean);
    const solved = solve(slope);
    const ofGround = solved.reduce((sum, one, k) => sum + one * itemAt(slope, k), 0);
    return { channel: channel.field, offset: mean, error: Math.sqrt(1 / weight + ofGround) };
  });
}

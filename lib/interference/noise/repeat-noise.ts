import { groupVisits } from "../../drift/checks/visits.js";
import type { NoiseModel } from "../../numerics/statistics/level-noise.js";
import type { Campaign, Channel, Pass } from "../../survey/survey.js";

/** Variance of repeats of one channel at one spot. */
interface RepeatVariance {
  readonly field: string;
  /** Kind and unit of the channel. */
  readonly kind: string;
  readonly level: number;
  readonly variance: number;
  readonly freedom: number;
}

/** Repeats less than this apart are one visit to the spot, s. */
const VISIT_S = 150;
/** With fewer degrees of freedom the noise is known too badly. */
const LEAST_FREEDOM = 10;
const ROUNDS = 40;

/**
 * For each channel of a pass, the instrument's noise from repeats at fixed spots, where no ground
 * takes part; null for a channel without enough of them. One spot gives a channel one level, so
 * what of its noise is floor and what a share of the value is taken from all channels of the pass:
 * a floor for each kind and unit, and one share, as a coil's gain is common to them. A channel's
 * own repeats then set its size.
 */
export function repeatNoise(campaign: Campaign, pass: Pass): readonly (NoiseModel | null)[] {
  const { channels } = pass.instrument;
  const found = channels.flatMap((channel) => variancesOf(campaign, channel));
  const { floors, share } = commonNoise(found);
  return channels.map((channel) => {
    const own = found.filter(({ field }) => field === channel.field);
    if (own.length === 0) return null;
    const floor = floors.get(kindOf(channel)) ?? 0;
    const size = Math.sqrt(sizeOf(own, floor, share));
    return { floor: size * Math.sqrt(floor), share: size * Math.sqrt(share) };
  });
}

function kindOf({ kind, unit }: Channel): string {
  return `${kind} ${unit}`;
}

function variancesOf({ baseChecks }: Campaign, channel: Channel): readonly RepeatVariance[] {
  const { field } = channel;
  const spots = new Set(baseChecks.map(({ spot }) => spot));
  return [...spots].flatMap((spot) => {
    const repeats = baseChecks
      .filter((check) => check.spot === spot)
      .map(({ time_s, values }) => ({ time_s, value: values[field] ?? Number.NaN }))
      .filter(({ time_s, value }) => Number.isFinite(value + time_s));
    const { visits, scatter, freedom } = groupVisits(repeats, { within_s: VISIT_S });
    const single = visits.every(({ used }) => used < 2);
    if (single || !(freedom >= LEAST_FREEDOM && scatter > 0)) return [];
    const level = visits.reduce((sum, { mean }) => sum + mean, 0) / visits.length;
    return [{ field, kind: kindOf(channel), level, variance: scatter * scatter, freedom }];
  });
}

interface CommonNoise {
  /** Variance at a value of 0, by kind. */
  readonly floors: ReadonlyMap<string, number>;
  /** Variance over the square of the value. */
  readonly share: number;
}

/** variance = floor of the kind + share × level², neither negative; by turns, reweighted. */
function commonNoise(found: readonly RepeatVariance[]): CommonNoise {
  const floors = new Map(found.map(({ kind }) => [kind, 0]));
  const floorOf = ({ kind }: RepeatVariance) => floors.get(kind) ?? 0;
  let share = 0;
  for (let round = 0; round < ROUNDS; round++) {
    const weighted = found.map((one) => {
      const expected = round === 0 ? one.variance : floorOf(one) + share * one.level ** 2;
      return { ...one, w: one.freedom / Math.max(expected, 0.01 * one.variance) ** 2 };
    });
    for (const kind of floors.keys()) {
      const own = weighted.filter((one) => one.kind === kind);
      const total = own.reduce((sum, { w }) => sum + w, 0);
      const left = own.reduce((sum, { w, variance, level }) => {
        return sum + w * (variance - share * level ** 2);
      }, 0);
      if (total > 0) floors.set(kind, Math.max(0, left / total));
    }
    let [along, square] = [0, 0];
    for (const one of weighted) {
      along += one.w * one.level ** 2 * (one.variance - floorOf(one));
      square += one.w * one.level ** 4;
    }
    share = square > 0 ? Math.max(0, along / square) : 0;
  }
  return { floors, share };
}

/** A channel's own variances over the common ones. */
function sizeOf(own: readonly RepeatVariance[], floor: number, share: number): number {
  let [ratio, total] = [0, 0];
  for (const { level, variance, freedom } of own) {
    const expected = floor + share * level ** 2;
    ratio += freedom * (expected > 0 ? variance / expected : 1);
    total += freedom;
  }
  return ratio / total;
}

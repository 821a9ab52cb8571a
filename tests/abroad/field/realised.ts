import { type ChannelSpec, mS_per_m_of_ppm } from "../earth/forward.js";
import { type Profile, texture } from "../ground/profiles.js";
import { type Chance, chance } from "../random.js";
import type { Day } from "./day.js";
import type { Drift, FieldErrors } from "./errors.js";
import type { NoiseLevels } from "./instruments.js";

/** The errors of one channel on one day, as drawn. */
export interface ChannelErrors {
  readonly gain: number;
  /** In the channel's unit. */
  readonly zero: number;
  /** In the channel's unit, by time. */
  readonly drift: (time_s: number) => number;
  /** Standard deviation of one reading of a value. */
  readonly noise: (value: number) => number;
}

export interface ErrorDraw {
  readonly seed: number;
  readonly campaign: number;
  readonly errors: FieldErrors;
}

/** The gain is the instrument's and stays from campaign to campaign; the rest is the day's. */
export function channelErrors(
  channel: ChannelSpec,
  { seed, campaign, errors }: ErrorDraw,
  { day, noise }: { readonly day: Day; readonly noise: NoiseLevels },
): ChannelErrors {
  const unit = unitsOfPpm(channel);
  const random = chance(seed, `errors/${campaign}/${channel.field}`);
  const size = unit * errors.drift.size_ppm * random.between(0.4, 1) * random.sign();
  return {
    gain: 1 + errors.gain * chance(seed, `gain/${channel.field}`).normal(),
    zero: unit * errors.zero_ppm * random.between(-1, 1),
    drift: driftCurve(errors.drift.kind, size, { random, day }),
    noise: (value) =>
      errors.noise * Math.hypot(noise.floor[channel.kind], noise.share * Math.abs(value)),
  };
}

/** One ppm of quadrature in the channel's unit; in-phase is off by twice as much. */
function unitsOfPpm(channel: ChannelSpec): number {
  if (channel.kind === "conductivity") return mS_per_m_of_ppm(channel);
  return channel.kind === "inphase" ? 2 : 1;
}

function driftCurve(
  kind: Drift["kind"],
  size: number,
  { random, day }: { readonly random: Chance; readonly day: Day },
): (time_s: number) => number {
  const [turns, phase, at] = [random.between(0.5, 2), random.uniform(), random.between(0.2, 0.8)];
  const shape: Readonly<Record<Drift["kind"], (part: number) => number>> = {
    none: () => 0,
    linear: (part) => part,
    "warm-up": (part) => 1 - Math.exp(-part / 0.2),
    swing: (part) => 0.5 * Math.sin(2 * Math.PI * (turns * part + phase)),
    step: (part) => (part > at ? 1 : 0),
  };
  return (time_s) => size * shape[kind]((time_s - day.start_s) / (day.end_s - day.start_s));
}

/** The coils' true height less the stated one along a walk, m. */
export function heightOff(
  walk: number,
  length_m: number,
  { seed, campaign, errors }: ErrorDraw,
): Profile {
  const random = chance(seed, `height/${campaign}/${walk}`);
  const whole = errors.height.byWalk_m * random.between(-1, 1);
  const sway = texture(random, { length_m, correlation_m: 2 });
  const { wander_m = 0 } = errors.height;
  const wander = texture(random, { length_m, correlation_m: 80 });
  const first = chance(seed, `operator/${campaign}`).uniform() < 0.5;
  const share = errors.height.share * length_m;
  return (x) => {
    const second = share > 0 && (first ? x < share : x > length_m - share);
    const uneven = errors.sway_m * sway(x) + wander_m * wander(x);
    return whole + uneven + (second ? errors.height.second_m : 0);
  };
}

import { ppmPerUnit } from "../../earth/channel-sensitivities.js";
import { layeredResponse } from "../../earth/coil-response.js";
import { neighbours, zipped } from "../../numerics/arrays.js";
import { median, quantile } from "../../numerics/statistics/robust.js";
import type { Channel } from "../../survey/survey.js";
import { addLayeredCovariance, type GroundChanges } from "./layered-covariance.js";
import type { LineProfile } from "./line-profiles.js";

/** Layer tops in coil separations; deeper than the last the coils hardly see. */
const TOPS = [0, 0.2, 0.45, 0.8, 1.3, 2, 3.2];
/** Local changes of conductivity by this factor must not look like metal. */
const CHANGE = 1.2;
/** Depth over which such a change is correlated, in coil separations. */
const LINK = 5;
/** Changes of the coils' height must not look like metal either. */
const BOB_M = 0.05;
/** Quantiles of the line at which half-spaces are taken. */
const LEVELS = [0.1, 0.5, 0.9];

/**
 * Covariance of the channels from local changes of layered ground and of the coils' height, c × c
 * by rows in the channels' units: changes of conductivity by one `CHANGE`, correlated over depth,
 * and of height by one `BOB_M`. Differences of the layered-earth response are taken about
 * half-spaces of the line's low, middle and high level; the three covariances are averaged.
 */
export function groundCovariance(profile: LineProfile): Float64Array {
  const { channels, pass, rows } = profile;
  const height_m = median(Float64Array.from(rows, (i) => pass.height_m[i]!));
  const setup = { channels, height_m: height_m > 0 ? height_m : 0 };
  const covariance = new Float64Array(channels.length ** 2);
  for (const level of LEVELS) {
    const changes = groundChanges(setup, likeHalfSpace(profile, setup, level));
    addLayeredCovariance(covariance, changes, { link: LINK, divisor: LEVELS.length });
  }
  return covariance;
}

interface Setup {
  readonly channels: readonly Channel[];
  readonly height_m: number;
}

function groundChanges({ channels, height_m }: Setup, conductivity_S_per_m: number): GroundChanges {
  const uniform = TOPS.map(() => conductivity_S_per_m);
  const response = (sigma: readonly number[], rise_m: number) =>
    Float64Array.from(channels, (channel) => channelResponse(channel, sigma, height_m + rise_m));
  const rest = response(uniform, 0);
  const change = (moved: Float64Array) => moved.map((value, c) => value - rest[c]!);
  const layers = TOPS.map((_, l) =>
    change(response(uniform.with(l, CHANGE * conductivity_S_per_m), 0)),
  );
  return { layers, tops: TOPS, bob: change(response(uniform, BOB_M)) };
}

/** What a channel would show over a layered earth, in the channel's unit. */
function channelResponse(channel: Channel, sigma: readonly number[], height_m: number): number {
  const thickness_m = neighbours(TOPS).map(([top, base]) => (base - top) * channel.separation_m);
  const earth = { conductivity_S_per_m: sigma, thickness_m };
  const { inphase_ppm, quadrature_ppm } = layeredResponse(earth, { ...channel, height_m });
  return channel.kind === "inphase" ? inphase_ppm : quadrature_ppm / ppmPerUnit(channel);
}

/** The half-space that gives the line's p-quantile in its most sensitive channel, S/m. */
function likeHalfSpace({ channels, values }: LineProfile, setup: Setup, p: number): number {
  const [best] = zipped(channels, values).sort(([a], [b]) => sensitivity(b) - sensitivity(a));
  if (best === undefined || best[0].kind === "inphase") return 0.03;
  const [channel, column] = best;
  const level = quantile(column, p);
  const miss = (sigma: number) => {
    const uniform = TOPS.map(() => sigma);
    return Math.abs(channelResponse(channel, uniform, setup.height_m) - level);
  };
  const grid = Array.from({ length: 31 }, (_, i) => 10 ** (-3 + i / 10));
  return grid.reduce((nearest, sigma) => (miss(sigma) < miss(nearest) ? sigma : nearest));
}

/** At low induction; an in-phase channel hardly depends on the level. */
function sensitivity({ kind, frequency_Hz, separation_m }: Channel): number {
  return kind === "inphase" ? 0 : frequency_Hz * separation_m ** 2;
}

import { MU_0 } from "../../earth/coil-reflection.js";
import { layeredResponse } from "../../earth/coil-response.js";
import { median, quantile } from "../../numerics/robust.js";
import type { Channel } from "../../survey/survey.js";
import type { Track } from "../metal/tracks.js";

/** Layer tops in coil separations; deeper than the last the coils hardly see. */
const TOPS = [0, 0.2, 0.45, 0.8, 1.3, 2, 3.2];
/** Local changes of conductivity by this factor must not look like metal. */
const CHANGE = 1.2;
/** Depth over which such a change hangs together, in coil separations. */
const LINK = 5;
/** Changes of the coils' height must not look like metal either. */
const BOB_m = 0.05;
const LEVELS = [0.1, 0.5, 0.9];

/**
 * How local changes of layered ground, and of the coils' height, spread the channels together: the
 * covariance, c × c by rows in the channels' units, of changes of conductivity by one `CHANGE` that
 * hang together over depth, and of changes of height by one `BOB_m`. Differences of the layered-earth
 * response are taken about half-spaces of the track's low, middle and high level; the three
 * covariances are averaged.
 */
export function groundSpread(track: Track): Float64Array {
  const height_m = median(Float64Array.from(track.rows, (i) => track.pass.height_m[i]!));
  const setup = { channels: track.channels, height_m: height_m > 0 ? height_m : 0 };
  const count = track.channels.length;
  const spread = new Float64Array(count * count);
  for (const level of LEVELS) {
    const { layers, bob } = differences(setup, likeHalfSpace(track, setup, level));
    addProduct(spread, [bob, bob], 1 / LEVELS.length);
    for (const [l, one] of layers.entries()) {
      for (const [m, other] of layers.entries()) {
        const link = Math.exp(-Math.abs(TOPS[l]! - TOPS[m]!) / LINK);
        addProduct(spread, [one, other], link / LEVELS.length);
      }
    }
  }
  return spread;
}

function addProduct(
  spread: Float64Array,
  [one, other]: readonly [Float64Array, Float64Array],
  weight: number,
): void {
  const count = one.length;
  for (let a = 0; a < count; a++) {
    for (let b = 0; b < count; b++) spread[a * count + b]! += weight * one[a]! * other[b]!;
  }
}

interface Setup {
  readonly channels: readonly Channel[];
  readonly height_m: number;
}

function differences(setup: Setup, conductivity_S_per_m: number) {
  const base = TOPS.map(() => conductivity_S_per_m);
  const response = (sigma: readonly number[], rise_m: number) =>
    setup.channels.map((channel) => channelResponse(channel, sigma, setup.height_m + rise_m));
  const rest = response(base, 0);
  const less = (moved: readonly number[]) =>
    Float64Array.from(moved, (value, c) => value - rest[c]!);
  const layers = TOPS.map((_, l) => base.map((sigma, i) => (i === l ? CHANGE * sigma : sigma)));
  return {
    layers: layers.map((sigma) => less(response(sigma, 0))),
    bob: less(response(base, BOB_m)),
  };
}

/** What a channel would show over a layered earth, in the channel's unit. */
function channelResponse(channel: Channel, sigma: readonly number[], height_m: number): number {
  const { separation_m, frequency_Hz, orientation } = channel;
  const thickness_m = TOPS.slice(1).map((top, l) => (top - TOPS[l]!) * separation_m);
  const coils = { orientation, separation_m, frequency_Hz, height_m };
  const earth = { conductivity_S_per_m: sigma, thickness_m };
  const { inphase_ppm, quadrature_ppm } = layeredResponse(earth, coils);
  const part = channel.kind === "inphase" ? inphase_ppm : quadrature_ppm;
  if (channel.unit === "ppm") return part;
  // Low-induction conductivity (McNeill 1980), mS/m.
  return (part * 1e-3 * 4) / (2 * Math.PI * frequency_Hz * MU_0 * separation_m ** 2);
}

/** The half-space that gives the track's p-quantile in its most telling channel, S/m. */
function likeHalfSpace(track: Track, setup: Setup, p: number): number {
  const telling = setup.channels.reduce(
    (best, channel, c) => (worth(channel) > worth(setup.channels[best]!) ? c : best),
    0,
  );
  const channel = setup.channels[telling]!;
  if (channel.kind === "inphase") return 0.03;
  const level = quantile(track.values[telling]!, p);
  const grid = Array.from({ length: 31 }, (_, i) => 10 ** (-3 + i / 10));
  const miss = (sigma: number) => {
    const uniform = TOPS.map(() => sigma);
    return Math.abs(channelResponse(channel, uniform, setup.height_m) - level);
  };
  return grid.reduce((best, sigma) => (miss(sigma) < miss(best) ? sigma : best), grid[0]!);
}

function worth({ kind, frequency_Hz, separation_m }: Channel): number {
  return kind === "inphase" ? 0 : frequency_Hz * separation_m ** 2;
}

import { MU_0 } from "../earth/coil-reflection.js";
import { layeredResponse } from "../earth/coil-response.js";
import { median, quantile } from "../numerics/robust.js";
import type { Channel } from "../survey/survey.js";
import type { Track } from "./tracks.js";

/** The ways in which a change of layered ground, or of the coils' height, moves the channels. */
export interface GroundModes {
  /** k vectors of one entry a channel, in the channels' units. */
  readonly modes: readonly Float64Array[];
  /** False where so few channels are there that the ground could move them in any proportion. */
  readonly complete: boolean;
}

/** Layer tops in coil separations; deeper than the last the coils hardly see. */
const TOPS = [0, 0.2, 0.45, 0.8, 1.3, 2, 3.2];
/** A local change of a layer's conductivity that must not look like metal. */
const CHANGE = 1.5;
const BOB_m = 0.1;
const LEVELS = [0.1, 0.5, 0.9];

/**
 * The modes that stand out of the noise, from derivatives of the layered-earth response about
 * half-spaces of the track's low, middle and high level: the largest remaining derivative is taken
 * as the next mode until what remains is below one noise. A third of the channels at the least is
 * kept free of modes, so that something is left to judge by.
 *
 * @param noise one typical noise a channel
 */
export function groundModes(track: Track, noise: readonly number[]): GroundModes {
  const height_m = median(Float64Array.from(track.rows, (i) => track.pass.height_m[i]!));
  const setup = { channels: track.channels, height_m: height_m > 0 ? height_m : 0 };
  const columns = LEVELS.flatMap((level) => derivatives(setup, likeHalfSpace(track, setup, level)));
  return strongest(columns, noise);
}

interface Setup {
  readonly channels: readonly Channel[];
  readonly height_m: number;
}

function derivatives(setup: Setup, conductivity_S_per_m: number): readonly Float64Array[] {
  const base = TOPS.map(() => conductivity_S_per_m);
  const response = (sigma: readonly number[], rise_m: number) =>
    setup.channels.map((channel) => channelResponse(channel, sigma, setup.height_m + rise_m));
  const rest = response(base, 0);
  const less = (moved: readonly number[]) =>
    Float64Array.from(moved, (value, c) => value - rest[c]!);
  const layers = TOPS.map((_, l) => base.map((sigma, i) => (i === l ? CHANGE * sigma : sigma)));
  return [...layers.map((sigma) => less(response(sigma, 0))), less(response(base, BOB_m))];
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

/** Pivoted Gram–Schmidt in units of the noise. */
function strongest(columns: readonly Float64Array[], noise: readonly number[]): GroundModes {
  const most = noise.length - Math.max(1, Math.ceil(noise.length / 3));
  const left = columns.map((column) => column.map((value, c) => value / noise[c]!));
  const modes: Float64Array[] = [];
  for (;;) {
    const largest = left.reduce((best, column) => (length(column) > length(best) ? column : best));
    const size = length(largest);
    if (!(size > 1)) return { modes, complete: true };
    if (modes.length >= most) return { modes, complete: false };
    const unit = largest.map((value) => value / size);
    for (const column of left) takeOff(column, unit);
    modes.push(unit.map((value, c) => value * noise[c]!));
  }
}

/** Takes the part along a unit vector off a vector, in place; returns its size. */
export function takeOff(vector: Float64Array, unit: Float64Array): number {
  let along = 0;
  for (let c = 0; c < vector.length; c++) along += vector[c]! * unit[c]!;
  for (let c = 0; c < vector.length; c++) vector[c]! -= along * unit[c]!;
  return along;
}

export function length(vector: Float64Array): number {
  return Math.sqrt(vector.reduce((sum, value) => sum + value * value, 0));
}

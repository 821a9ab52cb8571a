import type { Random } from "../../numerics/random.js";
import { BLOCK_SD, MOST_GROUND, MOST_LAYERS, STRETCH_SD } from "../prior/earth-ensemble.js";
import type { Directions } from "./directions.js";
import type { MemberScreen } from "./member-screen.js";
import type { Screened } from "./screen-station.js";

/** A draw from a station's posterior; all arrays are overwritten by the next. */
export interface StationDraw {
  member: number;
  /** ln conductivities of the member's layers, and their thicknesses, m. */
  readonly layers: Float64Array;
  readonly thickness_m: Float64Array;
  /** c errors of the readings, reading scale; NaN where there is none. */
  readonly error: Float64Array;
}

/** What a station's draws are made from. */
export interface StationPosterior {
  readonly screened: Screened;
  readonly weights: Float64Array;
  readonly screen: MemberScreen;
  /** Deviations of the readings. */
  readonly sd: Float64Array;
}

/** Random numbers that all stations share, so that a draw is of the whole line. */
export interface CommonNumbers {
  readonly draws: number;
  /** Where the systematic sample of members starts, 0 to 1. */
  readonly start: number;
  /** draws × size normal numbers. */
  readonly normal: Float64Array;
  readonly size: number;
}

/** Numbers for a line's directions and readings; each second draw mirrors the one before. */
export function commonNumbers(
  draws: number,
  { width, walks }: { readonly width: number; readonly walks: number },
  random: Random,
): CommonNumbers {
  const size = MOST_GROUND + walks + width;
  const normal = new Float64Array(draws * size);
  for (let at = 0; at < normal.length; at++) {
    const mirrored = Math.floor(at / size) % 2 === 1;
    normal[at] = mirrored ? -normal[at - size]! : random.normal();
  }
  return { draws, start: random.uniform(), normal, size };
}

/**
 * Draws from the mixture of the members' Gaussians after a reading: the member by its weight
 * (systematic sampling), then its directions x and the reading's errors e by correcting a prior
 * draw, x + Gᵀ S⁻¹ (r − G x − e) with S = R + G Gᵀ. Source: Journel & Huijbregts 1978
 * (conditioning by kriging); Doucet 2010 (both from memory).
 */
export class StationDrawer {
  private readonly draw: StationDraw;
  private readonly x: Float64Array;
  private readonly left: Float64Array;
  private readonly half: Float64Array;

  constructor(
    private readonly directions: Directions,
    private readonly numbers: CommonNumbers,
  ) {
    const { channels, walks } = directions;
    this.draw = {
      member: -1,
      layers: new Float64Array(MOST_LAYERS),
      thickness_m: new Float64Array(MOST_LAYERS),
      error: new Float64Array(channels),
    };
    this.x = new Float64Array(MOST_GROUND + walks);
    this.left = new Float64Array(channels);
    this.half = new Float64Array(channels);
  }

  take(reading: Float64Array, given: StationPosterior, each: (draw: StationDraw) => void): void {
    const { screened, weights } = given;
    const { draws, start } = this.numbers;
    let at = 0;
    let reached = weights[0]!;
    let columns = new Float64Array(0);
    let member = -1;
    for (let draw = 0; draw < draws; draw++) {
      const place = (draw + start) / draws;
      while (place > reached && at + 1 < screened.count) reached += weights[++at]!;
      const k = screened.member[at]!;
      if (k !== member) columns = this.directions.columns(k) as Float64Array<ArrayBuffer>;
      member = k;
      this.correct(reading, columns, { k, draw, given });
      each(this.draw);
    }
  }

  private correct(
    reading: Float64Array,
    columns: Float64Array,
    {
      k,
      draw: at,
      given,
    }: { readonly k: number; readonly draw: number; readonly given: StationPosterior },
  ): void {
    const { left, half, draw, x, directions, numbers } = this;
    const { screen, sd } = given;
    const width = directions.channels;
    const c = screen.channels.length;
    const q = columns.length / width;
    const from = at * numbers.size;
    for (let j = 0; j < q; j++) x[j] = numbers.normal[from + j]!;
    draw.error.fill(Number.NaN);
    for (let i = 0; i < c; i++) {
      const d = screen.channels[i]!;
      draw.error[d] = sd[d]! * numbers.normal[from + numbers.size - width + d]!;
      left[i] = reading[d]! - screen.value[k * c + i]! - draw.error[d]!;
      for (let j = 0; j < q; j++) left[i]! -= columns[j * width + d]! * x[j]!;
    }
    this.solve(screen, k);
    for (let i = 0; i < c; i++) {
      const d = screen.channels[i]!;
      draw.error[d]! += sd[d]! ** 2 * half[i]!;
      for (let j = 0; j < q; j++) x[j]! += columns[j * width + d]! * half[i]!;
    }
    this.settle(k);
  }

  /** half = S⁻¹ left, by the packed inverse factor. */
  private solve(screen: MemberScreen, k: number): void {
    const { left, half } = this;
    const c = screen.channels.length;
    const from = k * ((c * (c + 1)) / 2);
    half.fill(0);
    for (let i = 0, at = from; i < c; i++) {
      let sum = 0;
      for (let j = 0; j <= i; j++) sum += screen.inverse[at + j]! * left[j]!;
      for (let j = 0; j <= i; j++) half[j]! += screen.inverse[at + j]! * sum;
      at += i + 1;
    }
  }

  private settle(k: number): void {
    const { draw, x } = this;
    const { ensemble } = this.directions;
    const layers = ensemble.layers[k]!;
    const blocks = ensemble.blocks[k]!;
    const sd = ensemble.sd[k]!;
    draw.member = k;
    const stretch = Math.exp(STRETCH_SD * x[blocks + (sd > 0 ? layers : 0)]!);
    for (let j = 0; j < layers; j++) {
      const at = k * MOST_LAYERS + j;
      const moved = BLOCK_SD * x[ensemble.block[at]!]! + (sd > 0 ? sd * x[blocks + j]! : 0);
      draw.layers[j] = ensemble.lnConductivity[at]! + moved;
      draw.thickness_m[j] = stretch * ensemble.thickness_m[at]!;
    }
  }
}

/** Weights of what was screened; they add up to 1. */
export function weightsOf({ score, count }: Screened): Float64Array {
  let best = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < count; i++) best = Math.max(best, score[i]!);
  const weights = Float64Array.from({ length: count }, (_, i) => Math.exp(score[i]! - best));
  const sum = weights.reduce((total, value) => total + value, 0);
  return weights.map((value) => value / sum);
}

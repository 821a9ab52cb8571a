import { BLOCK_SD, MOST_GROUND, MOST_LAYERS, STRETCH_SD } from "../prior/earth-ensemble.js";
import type { CommonNumbers } from "./common-numbers.js";
import type { Directions } from "./directions.js";
import { DrawRoom } from "./draw-room.js";
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

/** A draw of a member, and the member's place in the screen. */
interface Correction {
  readonly k: number;
  readonly place: number;
  readonly draw: number;
  /** Of its directions. */
  readonly q: number;
  readonly given: StationPosterior;
}

/**
 * Draws from the mixture of the members' Gaussians after a reading: the member by its weight
 * (systematic sampling), then its directions x and the reading's errors e by correcting a prior
 * draw, x + Gᵀ S⁻¹ (r − G x − e) with S = R + G Gᵀ along the screen's axes. What readings differ by
 * beyond the axes, along which members do not, is error. Source: Journel & Huijbregts 1978
 * (conditioning by kriging); Doucet 2010 (both from memory).
 */
export class StationDrawer {
  private readonly draw: StationDraw;
  private readonly x: Float64Array;

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
  }

  take(reading: Float64Array, given: StationPosterior, each: (draw: StationDraw) => void): void {
    const { screened, weights } = given;
    const { draws, start } = this.numbers;
    const room = new DrawRoom(this.directions, given.screen);
    let at = 0;
    let reached = weights[0]!;
    let q = 0;
    let member = -1;
    for (let draw = 0; draw < draws; draw++) {
      const place = (draw + start) / draws;
      while (place > reached && at + 1 < screened.count) reached += weights[++at]!;
      const k = screened.member[at]!;
      if (k !== member) q = room.take(k);
      member = k;
      this.correct(reading, room, { k, place: screened.place[at]!, draw, q, given });
      each(this.draw);
    }
  }

  private correct(
    reading: Float64Array,
    room: DrawRoom,
    { k, place, draw: at, q, given }: Correction,
  ): void {
    const { draw, x, directions, numbers } = this;
    const { screen, sd } = given;
    const { value } = directions.responses;
    const { off, left, half, moved, share } = room;
    const width = directions.channels;
    const { channels } = screen;
    const c = channels.length;
    const from = at * numbers.size;
    for (let j = 0; j < q; j++) share[j] = -numbers.normal[from + j]!;
    for (let d = 0; d < width; d++) off[d] = reading[d]! - value[k * width + d]!;
    room.lessDirections(q);
    draw.error.fill(Number.NaN);
    for (let i = 0; i < c; i++) {
      const d = channels[i]!;
      const error = numbers.normal[from + numbers.size - width + d]!;
      draw.error[d] = sd[d]! * error;
      left[i] = off[d]! / sd[d]! - error;
    }
    room.solve(screen, place);
    for (let i = 0; i < c; i++) {
      const d = channels[i]!;
      draw.error[d]! += sd[d]! * (half[i]! + left[i]!);
      share[i] = half[i]! / sd[d]!;
    }
    for (let j = 0; j < q; j++) moved[j] = numbers.normal[from + j]!;
    room.addDirections(q);
    for (let j = 0; j < q; j++) x[j] = moved[j]!;
    this.settle(k);
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
  const weights = new Float64Array(count);
  let sum = 0;
  for (let i = 0; i < count; i++) {
    weights[i] = Math.exp(score[i]! - best);
    sum += weights[i]!;
  }
  for (let i = 0; i < count; i++) weights[i]! /= sum;
  return weights;
}

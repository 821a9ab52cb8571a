import type { Random } from "../../../numerics/random.js";
import { columnOf } from "./column-of.js";
import type { Directions } from "./directions.js";
import { MOST_LAYERS } from "./earth-ensemble.js";
import type { MemberScreen } from "./member-screen.js";
import { CLASS_SHARES, CLASSES } from "./prior-earths.js";
import type { Screened } from "./screen-station.js";

/** A draw from a station's posterior; all arrays are overwritten by the next. */
export interface StationDraw {
  member: number;
  /** ln conductivities of the member's layers. */
  readonly layers: Float64Array;
  /** c errors of the readings, reading scale; NaN where there is none. */
  readonly error: Float64Array;
}

export interface DrawingSetup {
  readonly screen: MemberScreen;
  /** c deviations of the readings. */
  readonly sd: Float64Array;
  readonly random: Random;
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

  constructor(private readonly directions: Directions) {
    const { channels, walks } = directions;
    this.draw = {
      member: -1,
      layers: new Float64Array(MOST_LAYERS),
      error: new Float64Array(channels),
    };
    this.x = new Float64Array(MOST_LAYERS + walks);
    this.left = new Float64Array(channels);
    this.half = new Float64Array(channels);
  }

  take(
    reading: Float64Array,
    screened: Screened,
    {
      setup,
      draws,
      each,
    }: {
      readonly setup: DrawingSetup;
      readonly draws: number;
      readonly each: (draw: StationDraw) => void;
    },
  ): void {
    const weights = temperedWeights(screened, this.directions.ensemble.kind);
    let at = 0;
    let reached = weights[0]!;
    const start = setup.random.uniform();
    let columns = new Float64Array(0);
    let member = -1;
    for (let draw = 0; draw < draws; draw++) {
      const place = (draw + start) / draws;
      while (place > reached && at + 1 < screened.count) reached += weights[++at]!;
      const k = screened.member[at]!;
      if (k !== member) columns = this.directions.columns(k) as Float64Array<ArrayBuffer>;
      member = k;
      this.correct(reading, columns, { k, setup });
      each(this.draw);
    }
  }

  /** A draw from a member's Gaussian before any reading. */
  prior(k: number, random: Random): StationDraw {
    for (let j = 0; j < this.x.length; j++) this.x[j] = random.normal();
    this.settle(k);
    return this.draw;
  }

  private correct(
    reading: Float64Array,
    columns: Float64Array,
    { k, setup }: { readonly k: number; readonly setup: DrawingSetup },
  ): void {
    const { left, half, draw, x, directions } = this;
    const { screen, sd, random } = setup;
    const width = directions.channels;
    const c = screen.channels.length;
    const q = columns.length / width;
    for (let j = 0; j < q; j++) x[j] = random.normal();
    draw.error.fill(Number.NaN);
    for (let i = 0; i < c; i++) {
      const d = screen.channels[i]!;
      draw.error[d] = sd[d]! * random.normal();
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
    draw.member = k;
    for (let j = 0; j < layers; j++) {
      draw.layers[j] = ensemble.lnConductivity[k * MOST_LAYERS + j]! + ensemble.sd[k]! * x[j]!;
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

/** The power that the evidence for a class of earths counts with. */
const CLASS_POWER = 0.5;

/**
 * Weights with the evidence for each class of earths tempered by a power: the ground is of no class
 * exactly, and the simplest class that fits would get too much weight.
 * Source: Grünwald & van Ommen 2017, Bayesian Analysis 12(4) (tempering under misspecification;
 * from memory).
 */
export function temperedWeights(screened: Screened, kind: Uint8Array): Float64Array {
  const weights = weightsOf(screened);
  const mass = new Float64Array(CLASSES);
  for (const [a, weight] of weights.entries()) mass[kind[screened.member[a]!]!]! += weight;
  const factor = mass.map((sum, at) =>
    sum > 0 ? (sum / CLASS_SHARES[at]!) ** (CLASS_POWER - 1) : 0,
  );
  const tempered = weights.map((weight, a) => weight * factor[kind[screened.member[a]!]!]!);
  const sum = tempered.reduce((total, value) => total + value, 0);
  return tempered.map((value) => value / sum);
}

/** Writes a draw's ln conductivities on the grid. */
export function writeColumn(
  { ensemble }: Directions,
  draw: StationDraw,
  target: { readonly top_m: Float64Array; readonly out: Float32Array; readonly at: number },
): void {
  columnOf(ensemble, draw.member, { lnConductivity: draw.layers, ...target });
}

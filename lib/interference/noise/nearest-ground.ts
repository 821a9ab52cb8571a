import { type CoilKernel, coilKernel } from "../../earth/coil-kernel.js";
import { lowInductionQuadrature } from "../../earth/half-space.js";
import type { Channel } from "../../survey/survey.js";
import { whitener } from "./whiten.js";

/** Layered grounds to compare with: each a response, and how changes of it spread the channels. */
export interface Grounds {
  readonly channels: readonly Channel[];
  readonly kernel: CoilKernel;
  /** The same coils a little higher. */
  readonly raised: CoilKernel;
  /** g grounds, ln S/m of each layer. */
  readonly lnSigma: readonly Float64Array[];
  readonly response: readonly Float64Array[];
  /** Index of a ground → c × c covariance; filled as needed. */
  readonly spread: Map<number, Float64Array>;
}

/** Layer tops in coil separations, and which of three thicker layers each belongs to. */
const TOPS = [0, 0.2, 0.5, 0.9, 1.4, 2.2, 3.2];
const THICKER = [0, 0, 1, 1, 2, 2, 2];
/** Conductivities of the thicker layers, log10 S/m. */
const LEVELS = [-2.6, -2.2, -1.8, -1.4, -1, -0.6];
/** Spread of ln conductivity about a ground of the catalogue, and its linking depth in separations. */
const CHANGE = 0.5;
const LINK = 2.5;
/** Whole walks carry their coils a little higher or lower, m. */
const BOB_M = 0.03;
/** Grounds tried in full, the nearest first. */
const NEAREST = 6;

export function groundsFor(channels: readonly Channel[], height_m: number): Grounds {
  const largest = Math.max(...channels.map(({ separation_m }) => separation_m));
  const thickness_m = TOPS.slice(1).map((top, l) => (top - TOPS[l]!) * largest);
  const kernel = coilKernel({ thickness_m, height_m, channels });
  const raised = coilKernel({ thickness_m, height_m: height_m + BOB_M, channels });
  const lnSigma = LEVELS.flatMap((a) =>
    LEVELS.flatMap((b) =>
      LEVELS.map((c) => Float64Array.from(THICKER, (l) => Math.LN10 * [a, b, c][l]!)),
    ),
  );
  const response = lnSigma.map((one) => responseOf(kernel, channels, one));
  return { channels, kernel, raised, lnSigma, response, spread: new Map() };
}

function responseOf(
  kernel: CoilKernel,
  channels: readonly Channel[],
  lnSigma: Float64Array,
): Float64Array {
  const { inphase_ppm, quadrature_ppm } = kernel.output();
  kernel.evaluate(lnSigma, { inphase_ppm, quadrature_ppm });
  return Float64Array.from(channels, (channel, c) => {
    const part = channel.kind === "inphase" ? inphase_ppm[c]! : quadrature_ppm[c]!;
    return part / ppmPerUnit(channel);
  });
}

/** ppm of quadrature for one mS/m of a conductivity channel (McNeill 1980); 1 for ppm. */
function ppmPerUnit(channel: Channel): number {
  return channel.unit === "ppm" ? 1 : lowInductionQuadrature(1e-3, channel);
}

/** How far values lie from the nearest layered ground. */
export interface Distance {
  /** Squared, whitened; over `freedom` it is about 1 where the ground explains the values. */
  readonly square: number;
  readonly freedom: number;
  /** For each channel, the part unlike ground, in errors; 0 for missing ones. */
  readonly unlike: Float64Array;
}

/** Distance from the nearest ground, changes of it counted as little where ground may change. */
export function distanceFromGround(
  grounds: Grounds,
  values: Float64Array,
  error: Float64Array,
): Distance | null {
  const present = Uint8Array.from(values, (value) => (Number.isNaN(value) ? 0 : 1));
  if (!present.includes(1)) return null;
  const square = grounds.response.map((response) => plainSquare(response, values, error));
  const nearest = Array.from(square.keys())
    .sort((a, b) => square[a]! - square[b]!)
    .slice(0, NEAREST);
  return nearest
    .map((g) => whitened(grounds, g, { values, error, present }))
    .reduce((best, one) => (one.square < best.square ? one : best));
}

function plainSquare(response: Float64Array, values: Float64Array, error: Float64Array): number {
  let sum = 0;
  for (let c = 0; c < values.length; c++) {
    const off = (values[c]! - response[c]!) / Math.hypot(error[c]!, 0.1 * response[c]!);
    if (!Number.isNaN(off)) sum += off * off;
  }
  return sum;
}

function whitened(
  grounds: Grounds,
  g: number,
  at: {
    readonly values: Float64Array;
    readonly error: Float64Array;
    readonly present: Uint8Array;
  },
): Distance {
  const { values, error, present } = at;
  const off = values.map((value, c) => {
    return present[c] === 1 ? (value - grounds.response[g]![c]!) / error[c]! : 0;
  });
  const { whiten, unwhiten, freedom } = whitener(spreadOf(grounds, g), error, present);
  const white = whiten(off);
  const square = white.reduce((sum, one) => sum + one * one, 0);
  return { square, freedom, unlike: unwhiten(white) };
}

function spreadOf(grounds: Grounds, g: number): Float64Array {
  const known = grounds.spread.get(g);
  if (known !== undefined) return known;
  const { channels, kernel, raised, lnSigma, response } = grounds;
  const higher = responseOf(raised, channels, lnSigma[g]!);
  const bob = higher.map((one, c) => one - response[g]![c]!);
  const layers = layerChanges(kernel, channels, lnSigma[g]!);
  const count = channels.length;
  const spread = new Float64Array(count * count);
  const add = (one: Float64Array, other: Float64Array, weight: number) => {
    for (let a = 0; a < count; a++) {
      for (let b = 0; b < count; b++) spread[a * count + b]! += weight * one[a]! * other[b]!;
    }
  };
  add(bob, bob, 1);
  for (const [l, one] of layers.entries()) {
    for (const [m, other] of layers.entries()) {
      add(one, other, Math.exp(-Math.abs(TOPS[l]! - TOPS[m]!) / LINK));
    }
  }
  grounds.spread.set(g, spread);
  return spread;
}

/** What a change of each layer's conductivity by `CHANGE` does to the channels. */
function layerChanges(
  kernel: CoilKernel,
  channels: readonly Channel[],
  lnSigma: Float64Array,
): readonly Float64Array[] {
  const out = kernel.output();
  kernel.evaluate(lnSigma, out);
  const { inphase_ppm, quadrature_ppm } = out.jacobian!;
  return TOPS.map((_, l) =>
    Float64Array.from(channels, (channel, c) => {
      const part = channel.kind === "inphase" ? inphase_ppm : quadrature_ppm;
      return (CHANGE * part[c * TOPS.length + l]!) / ppmPerUnit(channel);
    }),
  );
}

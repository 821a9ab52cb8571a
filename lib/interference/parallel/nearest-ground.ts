import { ppmPerUnit } from "../../earth/channel-sensitivities.js";
import { type CoilKernel, coilKernel } from "../../earth/coil-kernel.js";
import { dot } from "../../numerics/algebra/dot.js";
import { neighbours } from "../../numerics/arrays.js";
import type { Channel } from "../../survey/survey.js";
import { addLayeredCovariance } from "../anomaly/layered-covariance.js";
import { longestSeparation } from "../anomaly/line-profiles.js";
import { whitener } from "../anomaly/whitener.js";

/** Layered grounds to compare with, and the coils over them. */
export interface GroundCatalogue {
  readonly channels: readonly Channel[];
  readonly kernel: CoilKernel;
  /** The same coils a little higher. */
  readonly raised: CoilKernel;
  readonly grounds: readonly CataloguedGround[];
}

interface CataloguedGround {
  /** ln S/m of each layer. */
  readonly lnSigma: Float64Array;
  /** c values in the channels' units. */
  readonly response: Float64Array;
  /** c × c covariance of the channels by changes of this ground; made when first asked for. */
  covariance: Float64Array | null;
}

/** Layer tops in coil separations, and which of three thicker layers each belongs to. */
const TOPS = [0, 0.2, 0.5, 0.9, 1.4, 2.2, 3.2];
const THICKER = [0, 0, 1, 1, 2, 2, 2] as const;
/** Conductivities of the thicker layers, log10 S/m. */
const LEVELS = [-2.6, -2.2, -1.8, -1.4, -1, -0.6];
/** Standard change of ln conductivity about a ground, and its correlation depth in separations. */
const CHANGE = 0.5;
const LINK = 2.5;
/** Whole walks carry their coils a little higher or lower, m. */
const BOB_M = 0.03;
/** Grounds tried in full, the nearest first. */
const NEAREST = 6;

export function groundCatalogue(channels: readonly Channel[], height_m: number): GroundCatalogue {
  const largest_m = longestSeparation({ channels });
  const thickness_m = neighbours(TOPS).map(([top, base]) => (base - top) * largest_m);
  const kernel = coilKernel({ thickness_m, height_m, channels });
  const raised = coilKernel({ thickness_m, height_m: height_m + BOB_M, channels });
  const grounds = LEVELS.flatMap((a) =>
    LEVELS.flatMap((b) =>
      LEVELS.map((c): CataloguedGround => {
        const level = [a, b, c] as const;
        const lnSigma = Float64Array.from(THICKER, (l) => Math.LN10 * level[l]);
        const response = responseOf(kernel, channels, lnSigma);
        return { lnSigma, response, covariance: null };
      }),
    ),
  );
  return { channels, kernel, raised, grounds };
}

function responseOf(
  kernel: CoilKernel,
  channels: readonly Channel[],
  lnSigma: Float64Array,
): Float64Array {
  const { inphase_ppm, quadrature_ppm } = kernel.output();
  kernel.evaluate(lnSigma, { inphase_ppm, quadrature_ppm });
  return Float64Array.from(channels, (channel, c) => {
    const part = channel.kind === "inphase" ? inphase_ppm : quadrature_ppm;
    return part[c]! / ppmPerUnit(channel);
  });
}

/** How far values lie from the nearest layered ground. */
export interface GroundDistance {
  /** Squared, whitened; over `freedom` it is about 1 where the ground explains the values. */
  readonly square: number;
  readonly freedom: number;
  /** For each channel, the part that the ground does not explain, in errors; 0 for missing ones. */
  readonly residual: Float64Array;
}

/** c values with their standard errors; NaN where missing. */
export interface MeasuredChannels {
  readonly level: Float64Array;
  readonly error: Float64Array;
}

/** Distance from the nearest ground, where changes of it count little; null without any value. */
export function distanceFromGround(
  catalogue: GroundCatalogue,
  measured: MeasuredChannels,
): GroundDistance | null {
  if (measured.level.every(Number.isNaN)) return null;
  return nearestGrounds(catalogue, measured)
    .map((ground) => whitenedDistance(catalogue, ground, measured))
    .reduce((best, one) => (one.square < best.square ? one : best));
}

/** The grounds tried in full, the nearest first. */
function nearestGrounds(
  { grounds }: GroundCatalogue,
  measured: MeasuredChannels,
): readonly CataloguedGround[] {
  const nearest: CataloguedGround[] = [];
  const squares: number[] = [];
  for (const ground of grounds) {
    const square = plainSquare(ground, measured);
    if (nearest.length === NEAREST && !(square < squares[NEAREST - 1]!)) continue;
    let at = nearest.length;
    while (at > 0 && square < squares[at - 1]!) at--;
    nearest.splice(at, 0, ground);
    squares.splice(at, 0, square);
    if (nearest.length > NEAREST) nearest.length = squares.length = NEAREST;
  }
  return nearest;
}

function plainSquare({ response }: CataloguedGround, { level, error }: MeasuredChannels): number {
  let sum = 0;
  for (let c = 0; c < level.length; c++) {
    const off = level[c]! - response[c]!;
    const square = (off * off) / (error[c]! * error[c]! + 0.01 * response[c]! * response[c]!);
    if (!Number.isNaN(square)) sum += square;
  }
  return sum;
}

function whitenedDistance(
  catalogue: GroundCatalogue,
  ground: CataloguedGround,
  { level, error }: MeasuredChannels,
): GroundDistance {
  const present = Uint8Array.from(level, (value) => (Number.isNaN(value) ? 0 : 1));
  const off = level.map((value, c) =>
    present[c] === 1 ? (value - ground.response[c]!) / error[c]! : 0,
  );
  ground.covariance ??= covarianceOf(catalogue, ground);
  const { whiten, unwhiten, freedom } = whitener(ground.covariance, error, present);
  const white = whiten(off);
  return { square: dot(white, white), freedom, residual: unwhiten(white) };
}

function covarianceOf(
  { channels, kernel, raised }: GroundCatalogue,
  { lnSigma, response }: CataloguedGround,
): Float64Array {
  const higher = responseOf(raised, channels, lnSigma);
  const bob = higher.map((one, c) => one - response[c]!);
  const layers = layerChanges(kernel, channels, lnSigma);
  const covariance = new Float64Array(channels.length ** 2);
  addLayeredCovariance(covariance, { layers, tops: TOPS, bob }, { link: LINK, divisor: 1 });
  return covariance;
}

/** What a change of each layer's conductivity by `CHANGE` does to the channels. */
function layerChanges(
  kernel: CoilKernel,
  channels: readonly Channel[],
  lnSigma: Float64Array,
): readonly Float64Array[] {
  const out = kernel.output();
  kernel.evaluate(lnSigma, out);
  const { inphase_ppm, quadrature_ppm } = out.jacobian;
  return TOPS.map((_, l) =>
    Float64Array.from(channels, (channel, c) => {
      const part = channel.kind === "inphase" ? inphase_ppm : quadrature_ppm;
      return (CHANGE * part[c * TOPS.length + l]!) / ppmPerUnit(channel);
    }),
  );
}

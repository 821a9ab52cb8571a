import { layerParts, partsBelow } from "../../earth/embankment/layer-parts.js";
import { onBank } from "../../earth/embankment/on-bank.js";
import { USUAL_SHAPE } from "../../earth/embankment/shape.js";
import { stationForward } from "../../earth/station-forward.js";
import { dot } from "../../numerics/algebra/dot.js";
import { Remembered } from "../../numerics/functions/remembered.js";
import type { Channel } from "../../survey/survey.js";
import { addLayeredCovariance, addProduct } from "./layered-covariance.js";
import { layersSeen } from "./layers-seen.js";
import { type LineProfile, longestSeparation } from "./line-profiles.js";
import { whitener } from "./whitener.js";

/** Layered grounds to compare with, and the coils over them. */
export interface GroundCatalogue extends CoilsOverBank {
  readonly channels: readonly Channel[];
  readonly grounds: readonly CataloguedGround[];
}

type View = ReturnType<typeof layersSeen>;

interface CoilsOverBank {
  readonly coils: View;
  /** The same a little higher. */
  readonly raised: View;
  /** Over a bank of another shape: level ground, or where no shape is known a usual bank. */
  readonly otherwise: View;
  /** Standard doubt of the shape's effect, as a share of what `otherwise` differs by. */
  readonly doubt: number;
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
/**
 * What is in doubt of a shape's effect: where the cross-section is known, materials that change
 * across it and induction (`tests/calibration.md`); where it is not, all of it.
 */
const DOUBT = { known: 0.25, unknown: 1 };
/** How well coils, their height and the layered response are known, as a share of the value. */
export const MODEL_ERROR = 0.01;
/** Grounds tried in full, the nearest first. */
const NEAREST = 6;

/** Fewer channels than this, once ground has explained what it can, do not tell metal from ground. */
export const LEAST_FREEDOM = 3;

const remembered = new Remembered<GroundCatalogue>(8);

export type CoilsAt = Pick<LineProfile, "channels" | "height_m" | "shape" | "pairs">;

export function groundCatalogue(at: CoilsAt): GroundCatalogue {
  const { channels, height_m, shape, pairs } = at;
  return remembered.get(JSON.stringify([channels, height_m, shape, pairs]), () => {
    const over = coilsOverBank(at);
    const grounds = LEVELS.flatMap((a) =>
      LEVELS.flatMap((b) =>
        LEVELS.map((c): CataloguedGround => {
          const level = [a, b, c] as const;
          const lnSigma = Float64Array.from(THICKER, (l) => Math.LN10 * level[l]);
          return { lnSigma, response: over.coils(lnSigma).values, covariance: null };
        }),
      ),
    );
    return { channels, ...over, grounds };
  });
}

function coilsOverBank({ channels, height_m, shape, pairs }: CoilsAt): CoilsOverBank {
  const top_m = Float64Array.from(TOPS, (top) => top * longestSeparation({ channels }));
  const own = channels.map((channel) => ({ ...channel, height_m }));
  const parts = layerParts(partsBelow(shape ?? USUAL_SHAPE, own, pairs), top_m);
  const forward = (rise_m: number) => stationForward(channels, top_m, height_m + rise_m);
  const level = (rise_m: number) => layersSeen(forward(rise_m), channels);
  const bank = (rise_m: number) => layersSeen(onBank(forward(rise_m), parts, channels), channels);
  const [usual, other] = shape === null ? [level, bank] : [bank, level];
  const doubt = shape === null ? DOUBT.unknown : DOUBT.known;
  return { coils: usual(0), raised: usual(BOB_M), otherwise: other(0), doubt };
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
  { channels, coils, raised, otherwise, doubt }: GroundCatalogue,
  { lnSigma, response }: CataloguedGround,
): Float64Array {
  const lessRest = (view: View) => view(lnSigma).values.map((one, c) => one - response[c]!);
  const layers = coils(lnSigma).layers.map((byLog) => byLog.map((one) => CHANGE * one));
  const covariance = new Float64Array(channels.length ** 2);
  const changes = { layers, tops: TOPS, bob: lessRest(raised) };
  addLayeredCovariance(covariance, changes, { link: LINK, divisor: 1 });
  const shape = lessRest(otherwise);
  addProduct(covariance, [shape, shape], doubt ** 2);
  return covariance;
}

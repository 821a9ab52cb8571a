import { type PartsBelow, partsBelow } from "../../earth/embankment/layer-parts.js";
import { itemAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import type { StationShapes } from "../../survey/bank/station-shapes.js";
import type { Channel } from "../../survey/survey.js";

/** What the bank's shape does to the response of every channel at a line's stations. */
export interface BankEffect {
  readonly shapes: StationShapes;
  /** By channel, for the shape of that number. */
  parts(shape: number): readonly PartsBelow[];
  /** Over a homogeneous bank, response over that of level ground, by channel. */
  factors(shape: number): Float64Array;
  /** By channel, standard deviation of the factor that the method leaves. */
  factorSd(shape: number): Float64Array;
}

/**
 * Part of the correction that is in doubt: of quadrature by induction and by contrasts between
 * layers, of in-phase by induction (`tests/calibration.md`).
 */
const DOUBT = { quadrature: 0.1, conductivity: 0.1, inphase: 0.4 } as const;

/** Computed for a shape when it is first asked for, with the coils at their median height. */
export function bankEffect(
  shapes: StationShapes,
  channels: readonly Channel[],
  height_m: Float64Array,
): BankEffect {
  const coils = { height_m: median(height_m) };
  const pairs = channels.map((channel) => ({ ...channel, ...coils }));
  const made = new Map<number, readonly PartsBelow[]>();
  const parts = (shape: number) => {
    const known = made.get(shape) ?? partsBelow(itemAt(shapes.shapes, shape), pairs);
    made.set(shape, known);
    return known;
  };
  const factors = (shape: number) =>
    Float64Array.from(parts(shape), ({ bank, level }) => bank(0) / level(0));
  const factorSd = (shape: number) =>
    factors(shape).map((factor, d) => DOUBT[itemAt(channels, d).kind] * Math.abs(1 - factor));
  return { shapes, parts, factors, factorSd };
}

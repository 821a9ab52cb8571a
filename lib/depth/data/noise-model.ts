import { lowInductionQuadrature } from "../../earth/half-space.js";
import { itemAt, valueAt } from "../../numerics/arrays.js";
import type { Channel } from "../../survey/survey.js";
import type { DepthOptions } from "../options.js";
import type { StationChannel } from "./gather-stations.js";

/**
 * ppm of quadrature for one mS/m of an apparent-conductivity channel, by the low-induction relation
 * σa = 4 Im(Hs/Hp) / (ω μ₀ s²); 1 for ppm channels. Source: McNeill 1980.
 */
export function ppmPerUnit(channel: Channel): number {
  if (channel.kind !== "conductivity") return 1;
  return lowInductionQuadrature(1e-3, channel);
}

/**
 * Standard deviation of a station's mean, ppm: a share of the value that averaging does not lower
 * (coil height, calibration, the ground between stations), and the measured scatter of readings
 * over the root of their number, never below `floor_ppm` over the same root.
 */
export function stationNoise(
  entry: StationChannel,
  at: number,
  options: Pick<DepthOptions, "proportionalNoise" | "floor_ppm">,
): number {
  const factor = ppmPerUnit(entry.channel);
  const value = valueAt(entry.mean, at) * factor;
  const scatter = Math.max(entry.noise * factor, options.floor_ppm);
  return Math.hypot(
    options.proportionalNoise * value,
    scatter / Math.sqrt(itemAt(entry.count, at)),
  );
}

import { channelSensitivities } from "../../../earth/channel-sensitivities.js";
import { lowInductionQuadrature, skinDepth } from "../../../earth/half-space.js";
import { halfSpaceInverse } from "../../../earth/half-space-conductivity.js";
import { itemAt, neighbours, valueAt, zipped } from "../../../numerics/arrays.js";
import { median } from "../../../numerics/statistics/robust.js";
import { channelInformation } from "../../../planning/channels/channel-information.js";
import { ORDINARY_VARIATION, variationFactor } from "../../../planning/scene/ground-variation.js";
import { whitenedRows } from "../../../planning/scene/whitened-rows.js";
import type { Stations } from "../../data/gather-stations.js";
import type { MergedChannel } from "./merged-channels.js";
import type { NominalChannel } from "./nominal.js";
import { nominalDepth } from "./nominal-depth.js";
import type { NominalOptions } from "./options.js";

/** The half-space and height for which depths and shares are computed. */
export interface TypicalPlace {
  readonly ground_S_per_m: number;
  readonly height_m: number;
}

/** Median over the channels of the half-spaces that give their median readings. */
export function typicalPlace(merged: readonly MergedChannel[], stations: Stations): TypicalPlace {
  const height_m = median(stations.height_m);
  const halfSpaces = merged.map((one) => halfSpaceOf(one, height_m));
  const found = median(halfSpaces.filter((sigma) => sigma > 0));
  return { height_m, ground_S_per_m: found > 0 ? found : 0.03 };
}

function halfSpaceOf({ channel, apparent }: MergedChannel, height_m: number): number {
  const quadrature_ppm = median(apparent) * lowInductionQuadrature(1e-3, channel);
  return halfSpaceInverse({ ...channel, height_m })(quadrature_ppm).conductivity_S_per_m;
}

const LAYERS = 30;

/** Every merged channel with its depths and shares, and the levels that they hold together. */
export function nominalChannels(
  merged: readonly MergedChannel[],
  { ground_S_per_m, height_m }: TypicalPlace,
  used: NominalOptions,
): { readonly channels: readonly NominalChannel[]; readonly independentLevels: number } {
  if (merged.length === 0) return { channels: [], independentLevels: 0 };
  const coils = merged.map((one) => one.channel);
  const top_m = layerTops(coils.map(({ separation_m }) => separation_m));
  const noise = merged.map((one) => noiseOf(one, used));
  const { byLnConductivity_ppm } = channelSensitivities(coils, height_m, {
    conductivity_S_per_m: new Array<number>(LAYERS).fill(ground_S_per_m),
    thickness_m: neighbours(top_m).map(([top, base]) => base - top),
  });
  const noise_ppm = zipped(noise, coils).map(
    ([sd, channel]) => sd * lowInductionQuadrature(1e-3, channel),
  );
  const factor = variationFactor(top_m, ORDINARY_VARIATION);
  const whitened = whitenedRows(byLnConductivity_ppm, factor, noise_ppm);
  const information = channelInformation(whitened, merged.length);
  const channels = merged.map((one, c): NominalChannel => {
    const { field, kind, orientation, separation_m, frequency_Hz } = one.channel;
    return {
      ...{ field, kind, orientation, separation_m, frequency_Hz },
      nominalDepth_m: nominalDepth({ ...one.channel, height_m }),
      skinDepth_m: skinDepth(ground_S_per_m, frequency_Hz),
      apparent_mS_per_m: one.apparent,
      halfSpace_mS_per_m: 1000 * halfSpaceOf(one, height_m),
      noise_mS_per_m: itemAt(noise, c),
      shared: itemAt(information.shared, c),
      nearest: coils[nearestOf(whitened, c, merged.length)]?.field ?? "",
      ...sensitivityByDepth(byLnConductivity_ppm.subarray(c * LAYERS, (c + 1) * LAYERS), top_m),
    };
  });
  return { channels, independentLevels: information.levels };
}

/** Standard deviation of a station's value, mS/m. */
function noiseOf(
  { channel, apparent, scatter, count }: MergedChannel,
  used: NominalOptions,
): number {
  const floor = Math.max(scatter, used.floor_ppm / lowInductionQuadrature(1e-3, channel));
  return Math.hypot(used.proportionalNoise * median(apparent), floor / Math.sqrt(count));
}

/** From a tenth of the shortest separation, growing evenly to six times the longest. */
function layerTops(separations_m: readonly number[]): number[] {
  const first = 0.1 * Math.min(...separations_m);
  const ratio = ((6 * Math.max(...separations_m)) / first) ** (1 / (LAYERS - 2));
  return Array.from({ length: LAYERS }, (_, j) => (j === 0 ? 0 : first * ratio ** (j - 1)));
}

/** The other channel of the largest correlation with this one under the prior; −1 for none. */
function nearestOf(whitened: Float64Array, c: number, count: number): number {
  const m = whitened.length / count;
  const row = (a: number) => whitened.subarray(a * m, (a + 1) * m);
  const dot = (a: number, b: number) =>
    row(a).reduce((sum, value, k) => sum + value * valueAt(row(b), k), 0);
  let [best, most] = [-1, Number.NEGATIVE_INFINITY];
  for (let other = 0; other < count; other++) {
    const correlation = dot(c, other) ** 2 / ((1 + dot(c, c)) * (1 + dot(other, other)));
    if (other !== c && correlation > most) [best, most] = [other, correlation];
  }
  return best;
}

/** Shares of sensitivity a metre at mid-layer depths, and the depth above which half of it lies. */
function sensitivityByDepth(row: Float64Array, top_m: readonly number[]) {
  const size = row.map(Math.abs);
  const whole = size.reduce((sum, value) => sum + value, 0);
  const layers = neighbours(top_m).map(([top, base], j) => ({ top, base, size: valueAt(size, j) }));
  let above = 0;
  let medianDepth_m = Number.NaN;
  for (const { top, base, size } of layers) {
    if (above + size >= whole / 2) {
      medianDepth_m = top + ((whole / 2 - above) / size) * (base - top);
      break;
    }
    above += size;
  }
  return {
    sensitivityDepth_m: Float64Array.from(layers, ({ top, base }) => (top + base) / 2),
    sensitivity_per_m: Float64Array.from(
      layers,
      ({ top, base, size }) => size / whole / (base - top),
    ),
    medianDepth_m,
  };
}

import { channelSensitivities } from "../../../earth/channel-sensitivities.js";
import { lowInductionQuadrature, skinDepth } from "../../../earth/half-space.js";
import { halfSpaceInverse } from "../../../earth/half-space-conductivity.js";
import { median } from "../../../numerics/robust.js";
import { channelInformation } from "../../../planning/channels/channel-information.js";
import { variationFactor } from "../../../planning/scene/ground-variation.js";
import { whitenedRows } from "../../../planning/scene/whitened-rows.js";
import type { Channel } from "../../../survey/survey.js";
import type { Stations } from "../../data/gather-stations.js";
import { depthDefaults } from "../../options.js";
import type { NominalChannel } from "./nominal.js";
import { nominalDepth } from "./nominal-depth.js";
import type { NominalOptions } from "./options.js";

/** One coil pair and frequency, all passes that have it together. */
interface Merged {
  readonly channel: Channel;
  /** n means, mS/m by the low-induction relation. */
  readonly apparent: Float64Array;
  /** Scatter of one reading, mS/m, and the usual number of readings at a station. */
  readonly scatter: number;
  readonly count: number;
}

/** mS/m of low-induction apparent conductivity for one unit of the channel. */
function conductivityPerUnit(channel: Channel): number {
  return channel.kind === "conductivity" ? 1 : 1 / lowInductionQuadrature(1e-3, channel);
}

/** Channels that state a conductivity, coil pair by coil pair, each once whatever the passes. */
export function mergeChannels(stations: Stations): readonly Merged[] {
  const groups = new Map<string, Stations["channels"][number][]>();
  for (const entry of stations.channels) {
    const { kind, orientation, separation_m, frequency_Hz } = entry.channel;
    if (kind === "inphase") continue;
    const key = `${orientation} ${separation_m} ${frequency_Hz} ${kind}`;
    groups.set(key, [...(groups.get(key) ?? []), entry]);
  }
  const order = (a: Merged, b: Merged) =>
    a.channel.separation_m - b.channel.separation_m ||
    a.channel.orientation.localeCompare(b.channel.orientation) ||
    a.channel.frequency_Hz - b.channel.frequency_Hz;
  return [...groups.values()].map(mergePasses).sort(order);
}

function mergePasses(entries: readonly Stations["channels"][number][]): Merged {
  const { channel, mean } = entries[0]!;
  const factor = conductivityPerUnit(channel);
  const counts = mean.map((_, i) =>
    entries.reduce((sum, entry) => (Number.isNaN(entry.mean[i]!) ? sum : sum + entry.count[i]!), 0),
  );
  const apparent = mean.map((_, i) => {
    const sum = entries.reduce(
      (total, entry) =>
        Number.isNaN(entry.mean[i]!) ? total : total + entry.count[i]! * entry.mean[i]!,
      0,
    );
    return (factor * sum) / counts[i]!;
  });
  return {
    channel,
    apparent,
    scatter: factor * Math.max(...entries.map((entry) => entry.noise)),
    count: median(counts.filter((count) => count > 0)),
  };
}

/** The even ground and height for which depths and shares are worked out. */
export interface TypicalPlace {
  readonly ground_S_per_m: number;
  readonly height_m: number;
}

/** Median over the channels of the half-spaces that give their median readings. */
export function typicalPlace(merged: readonly Merged[], stations: Stations): TypicalPlace {
  const height_m = median(stations.height_m);
  const halfSpaces = merged.map((one) => halfSpaceOf(one, height_m));
  const found = median(halfSpaces.filter((sigma) => sigma > 0));
  return { height_m, ground_S_per_m: found > 0 ? found : 0.03 };
}

function halfSpaceOf({ channel, apparent }: Merged, height_m: number): number {
  const quadrature_ppm = median(apparent) * lowInductionQuadrature(1e-3, channel);
  return halfSpaceInverse({ ...channel, height_m })(quadrature_ppm).conductivity_S_per_m;
}

const LAYERS = 30;

/** Every merged channel with its depths and shares, and the levels that they hold together. */
export function nominalChannels(
  merged: readonly Merged[],
  place: TypicalPlace,
  used: NominalOptions,
): { readonly channels: readonly NominalChannel[]; readonly independentLevels: number } {
  const top_m = layerTops(merged.map((one) => one.channel.separation_m));
  const noise = merged.map((one) => noiseOf(one, used));
  const earth = {
    conductivity_S_per_m: new Array<number>(LAYERS).fill(place.ground_S_per_m),
    thickness_m: top_m.slice(1).map((top, j) => top - top_m[j]!),
  };
  const found = channelSensitivities(
    merged.map((one) => one.channel),
    place.height_m,
    earth,
  );
  const noise_ppm = noise.map((sd, c) => sd * lowInductionQuadrature(1e-3, merged[c]!.channel));
  const factor = variationFactor(top_m, depthDefaults);
  const whitened = whitenedRows(found.byLnConductivity_ppm, factor, noise_ppm);
  const information = channelInformation(whitened, merged.length);
  const channels = merged.map((one, c): NominalChannel => {
    const { field, kind, orientation, separation_m, frequency_Hz } = one.channel;
    const row = found.byLnConductivity_ppm.subarray(c * LAYERS, (c + 1) * LAYERS);
    const near = nearestOf(whitened, c, merged.length);
    return {
      ...{ field, kind, orientation, separation_m, frequency_Hz },
      nominalDepth_m: nominalDepth({ ...one.channel, height_m: place.height_m }),
      skinDepth_m: skinDepth(place.ground_S_per_m, frequency_Hz),
      apparent_mS_per_m: one.apparent,
      halfSpace_mS_per_m: 1000 * halfSpaceOf(one, place.height_m),
      noise_mS_per_m: noise[c]!,
      shared: information.shared[c]!,
      nearest: near < 0 ? "" : merged[near]!.channel.field,
      ...sensitivityByDepth(row, top_m),
    };
  });
  return { channels, independentLevels: information.levels };
}

/** Standard deviation of a station's value, mS/m. */
function noiseOf({ channel, apparent, scatter, count }: Merged, used: NominalOptions): number {
  const floor = Math.max(scatter, used.floor_ppm / lowInductionQuadrature(1e-3, channel));
  return Math.hypot(used.proportionalNoise * median(apparent), floor / Math.sqrt(count));
}

/** From a tenth of the shortest separation, growing evenly to six times the longest. */
function layerTops(separations_m: readonly number[]): number[] {
  const first = 0.1 * Math.min(...separations_m);
  const ratio = ((6 * Math.max(...separations_m)) / first) ** (1 / (LAYERS - 2));
  return Array.from({ length: LAYERS }, (_, j) => (j === 0 ? 0 : first * ratio ** (j - 1)));
}

/** The other channel that is most like this one: largest correlation over the prior. */
function nearestOf(whitened: Float64Array, c: number, count: number): number {
  const m = whitened.length / count;
  const dot = (a: number, b: number) => {
    let sum = 0;
    for (let k = 0; k < m; k++) sum += whitened[a * m + k]! * whitened[b * m + k]!;
    return sum;
  };
  let [best, most] = [-1, Number.NEGATIVE_INFINITY];
  for (let other = 0; other < count; other++) {
    const correlation = dot(c, other) ** 2 / ((1 + dot(c, c)) * (1 + dot(other, other)));
    if (other !== c && correlation > most) [best, most] = [other, correlation];
  }
  return best;
}

/** Shares of sensitivity a metre at the layers' middles, and the depth of half of the sensitivity. */
function sensitivityByDepth(row: Float64Array, top_m: readonly number[]) {
  const size = row.map(Math.abs);
  const whole = size.reduce((sum, value) => sum + value, 0);
  const bounded = top_m.length - 1;
  const sensitivityDepth_m = Float64Array.from(
    { length: bounded },
    (_, j) => (top_m[j]! + top_m[j + 1]!) / 2,
  );
  const sensitivity_per_m = Float64Array.from(
    { length: bounded },
    (_, j) => size[j]! / whole / (top_m[j + 1]! - top_m[j]!),
  );
  let above = 0;
  let layer = 0;
  while (layer < bounded && above + size[layer]! < whole / 2) above += size[layer++]!;
  const into = layer < bounded ? (whole / 2 - above) / size[layer]! : Number.NaN;
  const medianDepth_m = top_m[layer]! + into * ((top_m[layer + 1] ?? Number.NaN) - top_m[layer]!);
  return { sensitivityDepth_m, sensitivity_per_m, medianDepth_m };
}

import { lowInductionQuadrature } from "../../../earth/half-space.js";
import { firstOf, itemAt, valueAt } from "../../../numerics/arrays.js";
import { median } from "../../../numerics/statistics/robust.js";
import type { Channel } from "../../../survey/survey.js";
import type { StationChannel, Stations } from "../../data/gather-stations.js";

/** One coil pair and frequency, all passes that have it together. */
export interface MergedChannel {
  readonly channel: Channel;
  /** n means, mS/m by the low-induction relation. */
  readonly apparent: Float64Array;
  /** Scatter of one reading, mS/m, and the median number of readings at a station. */
  readonly scatter: number;
  readonly count: number;
}

/** mS/m of low-induction apparent conductivity for one unit of the channel. */
function conductivityPerUnit(channel: Channel): number {
  return channel.kind === "conductivity" ? 1 : 1 / lowInductionQuadrature(1e-3, channel);
}

/** Channels that state a conductivity and have values, by coil pair; passes are merged. */
export function mergeChannels(stations: Stations): readonly MergedChannel[] {
  const groups = new Map<string, StationChannel[]>();
  for (const entry of stations.channels) {
    const { kind, orientation, separation_m, frequency_Hz } = entry.channel;
    if (kind === "inphase" || entry.mean.every((mean) => Number.isNaN(mean))) continue;
    const key = `${orientation} ${separation_m} ${frequency_Hz} ${kind}`;
    groups.set(key, [...(groups.get(key) ?? []), entry]);
  }
  const order = (a: MergedChannel, b: MergedChannel) =>
    a.channel.separation_m - b.channel.separation_m ||
    a.channel.orientation.localeCompare(b.channel.orientation) ||
    a.channel.frequency_Hz - b.channel.frequency_Hz;
  return [...groups.values()].map(mergePasses).sort(order);
}

function mergePasses(entries: readonly StationChannel[]): MergedChannel {
  const { channel, mean } = firstOf(entries);
  const factor = conductivityPerUnit(channel);
  const sumOver = (of: (entry: StationChannel, i: number) => number) =>
    mean.map((_, i) => {
      const present = entries.filter((entry) => !Number.isNaN(valueAt(entry.mean, i)));
      return present.reduce((sum, entry) => sum + of(entry, i), 0);
    });
  const counts = sumOver(({ count }, i) => itemAt(count, i));
  const sums = sumOver((entry, i) => itemAt(entry.count, i) * valueAt(entry.mean, i));
  return {
    channel,
    apparent: sums.map((sum, i) => (factor * sum) / valueAt(counts, i)),
    scatter: factor * Math.max(...entries.map((entry) => entry.noise)),
    count: median(counts.filter((count) => count > 0)),
  };
}

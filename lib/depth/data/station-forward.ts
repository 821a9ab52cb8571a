import { coilKernel } from "../../earth/coil-kernel.js";
import { neighbours, valueAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import type { Channel } from "../../survey/survey.js";
import type { StationForward } from "../invert/station/invert-station.js";
import { layerParts } from "../shape/layer-parts.js";
import { onBank } from "../shape/on-bank.js";
import type { Stations } from "./gather-stations.js";

/**
 * The response of every channel at one height, ppm, with derivatives to ln conductivity. Coil pairs
 * that several channels share (in-phase and quadrature of one) are computed once.
 */
export function stationForward(
  channels: readonly Channel[],
  top_m: Float64Array,
  height_m: number,
): StationForward {
  const pairs = new Map<string, number>();
  const unique: Channel[] = [];
  const pairOf = channels.map((channel) => {
    const key = `${channel.orientation} ${channel.separation_m} ${channel.frequency_Hz}`;
    const known = pairs.get(key);
    if (known !== undefined) return known;
    pairs.set(key, unique.length);
    return unique.push(channel) - 1;
  });
  const m = top_m.length;
  const thickness_m = Float64Array.from(neighbours([...top_m]), ([top, base]) => base - top);
  const kernel = coilKernel({ thickness_m, height_m, channels: unique });
  const out = kernel.output();
  const { jacobian: derivatives } = out;
  return {
    layers: m,
    data: channels.length,
    evaluate(lnConductivity, response, jacobian) {
      kernel.evaluate(lnConductivity, out);
      for (const [d, channel] of channels.entries()) {
        const pair = pairOf[d]!;
        const part = channel.kind === "inphase" ? "inphase_ppm" : "quadrature_ppm";
        response[d] = out[part][pair]!;
        for (let j = 0; j < m; j++) {
          jacobian[d * m + j] = derivatives![part][pair * m + j]!;
        }
      }
    },
  };
}

/**
 * The response at each station, on the bank where its shape counts. Stations whose coil heights
 * round to the same centimetre share one; a station without a height has the median height.
 */
export function forwardsByHeight(
  stations: Stations,
  top_m: Float64Array,
): (station: number) => StationForward {
  const made = new Map<string, StationForward>();
  const channels = stations.channels.map((entry) => entry.channel);
  const typical = median(stations.height_m);
  const { bank } = stations;
  return (station) => {
    const measured = valueAt(stations.height_m, station);
    const height = Math.round(100 * (Number.isNaN(measured) ? typical : measured)) / 100;
    const shape = bank?.shapes.of[station] ?? -1;
    const key = `${height} ${shape}`;
    let forward = made.get(key);
    if (forward === undefined) {
      const level = stationForward(channels, top_m, height);
      const parts = shape < 0 ? undefined : bank?.parts(shape);
      forward = parts === undefined ? level : onBank(level, layerParts(parts, top_m), channels);
      made.set(key, forward);
    }
    return forward;
  };
}

import { setImmediate as breathe } from "node:timers/promises";
import { valueAt } from "../../../numerics/arrays.js";
import { median } from "../../../numerics/statistics/robust.js";
import type { Stations } from "../../data/gather-stations.js";
import { ppmPerUnit, stationNoise } from "../../data/noise-model.js";
import { rootMeanSquare } from "../../data/root-mean-square.js";
import { forwardsByHeight } from "../../data/station-forward.js";
import type { DepthOptions } from "../../options.js";
import { type LayerPrior, layerPrior } from "../../prior/layer-prior.js";
import { factorSdAt } from "../../shape/factor-sd-at.js";
import { type InvertedLine, stationGaps } from "../inverted-line.js";
import {
  invertStation,
  type StationData,
  type StationEstimate,
  type StationForward,
} from "./invert-station.js";
import { stationResolution } from "./station-resolution.js";

const CHUNK = 50;

/** Inverts each station by itself, giving the event loop a turn every few stations. */
export async function stationLine(stations: Stations, used: DepthOptions): Promise<InvertedLine> {
  const { chainage_m, positionSd_m } = stations;
  const n = chainage_m.length;
  const top_m = Float64Array.from(used.layerTops_m);
  const prior = layerPrior(top_m, used);
  const forwards = forwardsByHeight(stations, top_m);
  const priorMean = halfSpaceLevel(stations, forwards, used);
  const gaps = stationGaps(stations, used.channelShare);
  const estimates = new Array<StationEstimate | null>(n).fill(null);
  let xi = new Float64Array(top_m.length);
  for (const [i, gap] of gaps.gap.entries()) {
    if (i % CHUNK === 0) {
      used.progress?.(i, n);
      await breathe();
    }
    if (gap !== "") continue;
    // The neighbour's estimate is the start.
    const data = stationData(stations, i, used);
    const found = invertStation(forwards(i), data, { prior, priorMean, xi });
    xi = found.xi as Float64Array<ArrayBuffer>;
    estimates[i] = found;
  }
  used.progress?.(n, n);
  return {
    chainage_m,
    ...gaps,
    positionSd_m,
    top_m,
    ...columnsOf(estimates, prior, stations.channels.length),
    prior,
    sdInflation: () => 1,
    joint: null,
    ensemble: null,
  };
}

/** The estimates as columns over the line, NaN and null in gaps. */
function columnsOf(estimates: readonly (StationEstimate | null)[], prior: LayerPrior, c: number) {
  const m = prior.variance.length;
  const blank = (size: number) => new Float64Array(estimates.length * size).fill(Number.NaN);
  const [log10Resistivity, sd, learned, residual] = [blank(m), blank(m), blank(m), blank(c)];
  const misfit = blank(1);
  for (const [i, estimate] of estimates.entries()) {
    if (estimate === null) continue;
    const { lnConductivity, covariance } = estimate;
    misfit[i] = estimate.misfit;
    residual.set(estimate.residual, i * c);
    for (const [j, value] of lnConductivity.entries()) {
      const variance = valueAt(covariance, j * m + j);
      log10Resistivity[i * m + j] = -value / Math.LN10;
      sd[i * m + j] = Math.sqrt(variance) / Math.LN10;
      learned[i * m + j] = 1 - variance / valueAt(prior.variance, j);
    }
  }
  const covariance = estimates.map((one) => one?.covariance ?? null);
  return {
    ...{ log10Resistivity, sd, learned, covariance, residual, misfit },
    noiseCovariance: estimates.map((one) => one?.noiseCovariance ?? null),
    rms: rootMeanSquare(misfit),
    independentLevels: median(estimates.flatMap((one) => one?.levels ?? [])),
    timesResolution: stationResolution(covariance, prior),
  };
}

function stationData(stations: Stations, i: number, used: DepthOptions): StationData {
  const value = Float64Array.from(
    stations.channels,
    (entry) => valueAt(entry.mean, i) * ppmPerUnit(entry.channel),
  );
  const doubt = factorSdAt(stations, i);
  const sd = Float64Array.from(stations.channels, (entry, d) =>
    Math.hypot(stationNoise(entry, i, used), valueAt(value, d) * valueAt(doubt, d)),
  );
  return { value, sd };
}

/** Prior mean: ln conductivity of the half-space that fits the campaign's median readings best. */
function halfSpaceLevel(
  stations: Stations,
  forwards: (station: number) => StationForward,
  used: DepthOptions,
): number {
  const station = stations.height_m.findIndex((height) => height >= 0);
  if (station < 0) return Math.log(0.03);
  const forward = forwards(station);
  const value = Float64Array.from(
    stations.channels,
    (entry) => median(entry.mean) * ppmPerUnit(entry.channel),
  );
  const response = new Float64Array(forward.data);
  const jacobian = new Float64Array(forward.data * forward.layers);
  const model = new Float64Array(forward.layers);
  let best = Math.log(0.03);
  let least = Number.POSITIVE_INFINITY;
  for (let level = Math.log(5e-4); level < Math.log(1); level += 0.05) {
    forward.evaluate(model.fill(level), response, jacobian);
    let cost = 0;
    for (const [d, entry] of stations.channels.entries()) {
      const floor = Math.max(entry.noise * ppmPerUnit(entry.channel), used.floor_ppm);
      const sd = Math.hypot(floor, 0.1 * value[d]!);
      if (!Number.isNaN(value[d])) cost += Math.abs((value[d]! - response[d]!) / sd);
    }
    if (cost < least) [least, best] = [cost, level];
  }
  return best;
}

import { setImmediate as breathe } from "node:timers/promises";
import { median } from "../../../numerics/robust.js";
import type { Stations } from "../../data/gather-stations.js";
import { ppmPerUnit, stationNoise } from "../../data/noise-model.js";
import { forwardsByHeight } from "../../data/station-forward.js";
import type { DepthOptions } from "../../options.js";
import { layerPrior } from "../../prior/layer-prior.js";
import { gapAt, type InvertedLine } from "../inverted-line.js";
import { invertStation, type StationData, type StationForward } from "./invert-station.js";
import { localAnswers } from "./station-resolution.js";

const CHUNK = 50;

/** A line of which each station stood by itself. */
export interface StationsAlone extends InvertedLine {
  readonly settled: null;
  /** n × c residuals over their deviations; NaN where there is no datum. */
  readonly residual: Float64Array;
}

/** Inverts each station by itself, giving the event loop a turn every few stations. */
export async function stationLine(stations: Stations, used: DepthOptions): Promise<StationsAlone> {
  const n = stations.chainage_m.length;
  const c = stations.channels.length;
  const m = used.layerTops_m.length;
  const top_m = Float64Array.from(used.layerTops_m);
  const prior = layerPrior(top_m, used);
  const forwards = forwardsByHeight(stations, top_m);
  const priorMean = campaignLevel(stations, forwards, used);
  const gap = stations.chainage_m.reduce<("" | "set aside" | "no readings")[]>((list, _, i) => {
    list.push(gapAt(stations, i, used.channelShare));
    return list;
  }, []);
  const out = emptyLine(n, m);
  const residual = new Float64Array(n * c).fill(Number.NaN);
  const levels: number[] = [];
  let xi = new Float64Array(m);
  for (let i = 0; i < n; i++) {
    if (i % CHUNK === 0) {
      used.progress?.(i, n);
      await breathe();
    }
    if (gap[i] !== "") continue;
    const data = stationData(stations, i, used);
    const estimate = invertStation(forwards(i), data, { prior, priorMean, xi });
    xi = estimate.xi as Float64Array<ArrayBuffer>;
    out.covariance[i] = estimate.covariance;
    out.noiseCovariance[i] = estimate.noiseCovariance;
    out.misfit[i] = estimate.misfit;
    residual.set(estimate.residual, i * c);
    levels.push(estimate.levels);
    for (let j = 0; j < m; j++) {
      const variance = estimate.covariance[j * m + j]!;
      out.log10Resistivity[i * m + j] = -estimate.lnConductivity[j]! / Math.LN10;
      out.sd[i * m + j] = Math.sqrt(variance) / Math.LN10;
      out.learned[i * m + j] = 1 - variance / prior.variance[j]!;
    }
  }
  used.progress?.(n, n);
  return {
    chainage_m: stations.chainage_m,
    gap,
    positionSd_m: stations.positionSd_m,
    gapCause: stations.cause.map((cause, i) => (gap[i] === "set aside" ? cause : "")),
    top_m,
    ...out,
    rms: Math.sqrt(meanOf(out.misfit.map((value) => value * value))),
    independentLevels: median(levels),
    prior,
    widening: () => 1,
    answers: localAnswers(out.covariance, prior),
    settled: null,
    residual,
  };
}

function emptyLine(n: number, m: number) {
  return {
    log10Resistivity: new Float64Array(n * m).fill(Number.NaN),
    sd: new Float64Array(n * m).fill(Number.NaN),
    learned: new Float64Array(n * m).fill(Number.NaN),
    covariance: new Array<Float64Array | null>(n).fill(null),
    noiseCovariance: new Array<Float64Array | null>(n).fill(null),
    misfit: new Float64Array(n).fill(Number.NaN),
  };
}

function stationData(stations: Stations, i: number, used: DepthOptions): StationData {
  const noise = { proportional: used.proportionalNoise, floor_ppm: used.floor_ppm };
  const value = Float64Array.from(
    stations.channels,
    (entry) => entry.mean[i]! * ppmPerUnit(entry.channel),
  );
  const sd = Float64Array.from(stations.channels, (entry) => stationNoise(entry, i, noise));
  return { value, sd };
}

/** ln conductivity of the half-space that fits the campaign's median readings best. */
function campaignLevel(
  stations: Stations,
  forwards: (station: number) => StationForward,
  used: DepthOptions,
): number {
  const station = [...stations.height_m.keys()].find((i) => stations.height_m[i]! >= 0);
  if (station === undefined) return Math.log(0.03);
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

function meanOf(values: Float64Array): number {
  let sum = 0;
  let count = 0;
  for (const value of values) {
    if (Number.isNaN(value)) continue;
    sum += value;
    count += 1;
  }
  return sum / count;
}

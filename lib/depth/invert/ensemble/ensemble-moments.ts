import { valueAt } from "../../../numerics/arrays.js";
import { median } from "../../../numerics/statistics/robust.js";
import type { LayerPrior } from "../../prior/layer-prior.js";
import type { StationGaps } from "../inverted-line.js";
import { stationResolution } from "../station/station-resolution.js";
import { columnMoments, fromReadings, gaussianOf } from "./column-statistics.js";
import type { LineDraws } from "./line-ensemble.js";

/** Means, deviations and resolution by station, as of the Gaussian of the draws' moments. */
export function ensembleMoments(draws: LineDraws, gap: StationGaps["gap"]) {
  const m = draws.top_m.length;
  const n = gap.length;
  const prior = gaussianOf(draws.prior, m);
  const stations = gap.map((why, i) => (why === "" ? stationMoments(draws, i, prior) : null));
  const log10Resistivity = new Float64Array(n * m).fill(Number.NaN);
  const sd = new Float64Array(n * m).fill(Number.NaN);
  const learned = new Float64Array(n * m).fill(Number.NaN);
  for (const [i, station] of stations.entries()) {
    if (station === null) continue;
    for (let j = 0; j < m; j++) {
      const variance = valueAt(station.covariance, j * m + j);
      log10Resistivity[i * m + j] = -valueAt(station.mean, j) / Math.LN10;
      sd[i * m + j] = Math.sqrt(variance) / Math.LN10;
      learned[i * m + j] = Math.max(0, 1 - variance / valueAt(prior.variance, j));
    }
  }
  const covariance = stations.map((station) => station?.covariance ?? null);
  return {
    ...{ log10Resistivity, sd, learned, covariance, prior },
    noiseCovariance: stations.map((station) => station?.noise ?? null),
    timesResolution: stationResolution(covariance, prior),
    independentLevels: median(stations.flatMap((station) => station?.levels ?? [])),
  };
}

/** Moments of one station's draws; null without a draw. */
function stationMoments({ columns, draws, top_m }: LineDraws, i: number, prior: LayerPrior) {
  const size = draws * top_m.length;
  const moments = columnMoments(columns.subarray(i * size, (i + 1) * size), top_m.length);
  return moments && { ...moments, ...fromReadings(moments.covariance, prior) };
}

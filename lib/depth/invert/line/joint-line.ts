import { itemAt, valueAt } from "../../../numerics/arrays.js";
import { median } from "../../../numerics/statistics/robust.js";
import type { Campaign } from "../../../survey/survey.js";
import type { Stations } from "../../data/gather-stations.js";
import { rootMeanSquare } from "../../data/root-mean-square.js";
import type { DepthOptions } from "../../options.js";
import { type InvertedLine, stationGaps } from "../inverted-line.js";
import { invertLine, type LinePosterior } from "./invert-line.js";
import { lnCovariances, timesLineResolution, whitenedNoise } from "./line-posterior.js";
import { forEachDatum } from "./line-state.js";

/** Inverts all stations of a campaign jointly; those in gaps are NaN in what is returned. */
export async function jointLine(
  campaign: Campaign,
  stations: Stations,
  used: DepthOptions,
): Promise<InvertedLine> {
  const joint = await invertLine(campaign, stations, used);
  const { data, hyper } = joint;
  const gaps = stationGaps(stations, used.channelShare);
  const inUse = gaps.gap.map((why) => why === "");
  const { factor } = hyper.prior.layers;
  const covariance = lnCovariances(joint.covariance, factor, data.q);
  const noise = lnCovariances(whitenedNoise(joint), factor, data.q);
  const residual = residuals(joint);
  const misfit = misfits(residual, inUse);
  return {
    chainage_m: stations.chainage_m,
    ...gaps,
    positionSd_m: stations.positionSd_m,
    top_m: data.top_m,
    ...layersOf(joint, covariance, inUse),
    sdInflation: joint.moments.sdInflation,
    covariance: covariance.map((matrix, i) => (inUse[i] ? matrix : null)),
    noiseCovariance: noise.map((matrix, i) => (inUse[i] ? matrix : null)),
    residual,
    misfit,
    rms: rootMeanSquare(misfit),
    independentLevels: independentLevels(joint, inUse),
    prior: hyper.prior.layers,
    timesResolution: (change) => timesLineResolution(change, joint),
    joint,
    ensemble: null,
  };
}

/** Means, deviations and removed variance of the layers, n × m each; NaN in gaps. */
function layersOf(
  { data: { m }, hyper, moments }: LinePosterior,
  covariance: readonly Float64Array[],
  inUse: readonly boolean[],
) {
  const { mean, sdInflation } = moments;
  const inflation = Array.from({ length: m }, (_, j) => sdInflation(unitVector(j, m)));
  const where = (of: (station: number, layer: number) => number) =>
    mean.map((_, at) => {
      const [i, j] = [Math.floor(at / m), at % m];
      return inUse[i] ? of(i, j) : Number.NaN;
    });
  const variance = (i: number, j: number) => valueAt(itemAt(covariance, i), j * m + j);
  return {
    log10Resistivity: where((i, j) => -valueAt(mean, i * m + j) / Math.LN10),
    sd: where((i, j) => (itemAt(inflation, j) * Math.sqrt(variance(i, j))) / Math.LN10),
    learned: where((i, j) => 1 - variance(i, j) / valueAt(hyper.prior.layers.variance, j)),
  };
}

function unitVector(j: number, m: number): Float64Array {
  return new Float64Array(m).fill(1, j, j + 1);
}

/** n × c residuals over their deviations; NaN where there is no datum. */
function residuals(joint: LinePosterior): Float64Array {
  const { n, c } = joint.data;
  const all = new Float64Array(n * c).fill(Number.NaN);
  forEachDatum(joint, (i, d, residual) => {
    all[i * c + d] = residual;
  });
  return all;
}

/** Root mean square over each station's channels; NaN in gaps. */
function misfits(residual: Float64Array, inUse: readonly boolean[]): Float64Array {
  const c = residual.length / inUse.length;
  return Float64Array.from(inUse, (use, i) =>
    use ? rootMeanSquare(residual.subarray(i * c, (i + 1) * c)) : Number.NaN,
  );
}

/** Median over the stations in use of trace(I − C): the levels that the data resolve. */
function independentLevels({ data, covariance }: LinePosterior, inUse: readonly boolean[]): number {
  const { m, q } = data;
  const levels: number[] = [];
  for (const [i, use] of inUse.entries()) {
    if (!use) continue;
    let sum = 0;
    for (let j = 0; j < m; j++) sum += 1 - covariance[(i * q + j) * q + j]!;
    levels.push(sum);
  }
  return median(levels);
}

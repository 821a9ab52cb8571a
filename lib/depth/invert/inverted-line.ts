import type { Campaign } from "../../survey/survey.js";
import type { Stations } from "../data/gather-stations.js";
import type { DepthOptions } from "../options.js";
import type { LayerPrior } from "../prior/layer-prior.js";
import { independentLevels, invertLine, type SettledLine } from "./line/invert-line.js";
import { answerTo, lnCovariances, whitenedNoise } from "./line/line-posterior.js";
import { residualAt } from "./line/line-state.js";

/** Every station's layered earth, n stations × m layers. */
export interface InvertedLine {
  readonly chainage_m: Float64Array;
  readonly gap: readonly ("" | "set aside" | "no readings")[];
  readonly gapCause: readonly string[];
  /** n standard deviations of the readings' chainages, m; NaN where nothing tells them. */
  readonly positionSd_m: Float64Array;
  readonly top_m: Float64Array;
  /** n × m, ohm-m and its posterior standard deviation, both log10. */
  readonly log10Resistivity: Float64Array;
  readonly sd: Float64Array;
  /** How much wider the posterior of a weighted sum of layers is than `covariance` says. */
  readonly widening: (weights: Float64Array) => number;
  /** n × m shares of prior variance removed. */
  readonly learned: Float64Array;
  /** n posterior covariances of ln conductivity, m × m; null in gaps. */
  readonly covariance: readonly (Float64Array | null)[];
  /** The part of it that comes from the readings' noise. */
  readonly noiseCovariance: readonly (Float64Array | null)[];
  readonly misfit: Float64Array;
  readonly rms: number;
  readonly independentLevels: number;
  /** What was believed of a column beforehand. */
  readonly prior: LayerPrior;
  /** How the estimates of n × m answer to a change of m layers, ln units; NaN where there is none. */
  readonly answers: (change: Float64Array) => Float64Array;
  /** What an inversion of the whole line has beyond this; null where each station stood by itself. */
  readonly settled: SettledLine | null;
}

/** Inverts all stations of a campaign together and reads off what each of them is to say. */
export async function jointLine(
  campaign: Campaign,
  stations: Stations,
  used: DepthOptions,
): Promise<InvertedLine> {
  const settled = await invertLine(campaign, stations, used);
  const { data, belief } = settled;
  const { n, m, q } = data;
  const gap = Array.from({ length: n }, (_, i) => gapAt(stations, i, used.channelShare));
  const inUse = gap.map((why) => why === "");
  const { factor, variance } = belief.prior.layers;
  const covariance = lnCovariances(settled.covariance, factor, q);
  const noise = lnCovariances(whitenedNoise(data, belief, settled), factor, q);
  const known = (at: number, value: number) => (inUse[Math.floor(at / m)] ? value : Number.NaN);
  const { widening } = settled.moments;
  const wider = Array.from({ length: m }, (_, j) => widening(onlyLayer(j, m)));
  const residual = residuals(settled);
  const misfit = misfits(residual, inUse);
  return {
    chainage_m: stations.chainage_m,
    gap,
    positionSd_m: stations.positionSd_m,
    gapCause: stations.cause.map((cause, i) => (gap[i] === "set aside" ? cause : "")),
    top_m: data.top_m,
    log10Resistivity: settled.moments.mean.map((value, at) => known(at, -value / Math.LN10)),
    sd: settled.moments.mean.map((_, at) =>
      known(at, (wider[at % m]! * Math.sqrt(diagonal(covariance, at, m))) / Math.LN10),
    ),
    widening,
    learned: settled.moments.mean.map((_, at) =>
      known(at, 1 - diagonal(covariance, at, m) / variance[at % m]!),
    ),
    covariance: covariance.map((matrix, i) => (inUse[i] ? matrix : null)),
    noiseCovariance: noise.map((matrix, i) => (inUse[i] ? matrix : null)),
    misfit,
    rms: rootMeanSquare(misfit),
    independentLevels: independentLevels(settled, inUse),
    prior: belief.prior.layers,
    answers: (change) => answerTo(change, settled),
    settled,
  };
}

/** m weights: 1 for one layer, 0 for the others. */
function onlyLayer(j: number, m: number): Float64Array {
  const weights = new Float64Array(m);
  weights[j] = 1;
  return weights;
}

/** Why a station has no estimate: too few of its channels have readings in use. */
export function gapAt(
  stations: Stations,
  i: number,
  share: number,
): "" | "set aside" | "no readings" {
  const inUse = stations.channels.filter((entry) => entry.count[i]! > 0).length;
  if (inUse > 0 && inUse >= share * stations.channels.length) return "";
  return stations.present[i]! > 0 ? "set aside" : "no readings";
}

function diagonal(matrices: readonly Float64Array[], at: number, m: number): number {
  const j = at % m;
  return matrices[Math.floor(at / m)]![j * m + j]!;
}

/** n × c residuals over their deviations; NaN where there is no datum. */
export function residuals({ data, belief, state }: SettledLine): Float64Array {
  const residual = residualAt(data, belief, state);
  return Float64Array.from({ length: data.n * data.c }, (_, at) =>
    data.known[Math.floor(at / data.c)] === 1
      ? residual(Math.floor(at / data.c), at % data.c)
      : Number.NaN,
  );
}

/** Root mean square over each station's channels; NaN in gaps. */
function misfits(residual: Float64Array, inUse: readonly boolean[]): Float64Array {
  const c = residual.length / inUse.length;
  return Float64Array.from(inUse, (use, i) =>
    use ? rootMeanSquare(residual.subarray(i * c, (i + 1) * c)) : Number.NaN,
  );
}

export function rootMeanSquare(values: Float64Array): number {
  let sum = 0;
  let count = 0;
  for (const value of values) {
    if (Number.isNaN(value)) continue;
    sum += value * value;
    count += 1;
  }
  return Math.sqrt(sum / count);
}

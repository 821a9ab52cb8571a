import { quadraticForm } from "../../numerics/quadratic-form.js";
import { median } from "../../numerics/robust.js";
import { crestElevationAt } from "../../survey/bank/cross-section.js";
import type { Campaign } from "../../survey/survey.js";
import type { Stations } from "../data/gather-stations.js";
import { gpsGaps } from "../data/gps-gaps.js";
import type { DepthSlices, Slice } from "../depth-slices.js";
import type { InvertedLine } from "../invert/inverted-line.js";
import type { DepthOptions } from "../options.js";
import { averagingKernel, toldApart } from "./averaging-kernel.js";
import { channelFits } from "./channel-fits.js";
import { chooseSlices, reliableDepth, type SliceDepths, sliceWeights } from "./choose-slices.js";

/** An inverted line as slices: means, standard deviations, resolution. */
export function depthSlicesOf(
  { campaign, stations }: { readonly campaign: Campaign; readonly stations: Stations },
  line: InvertedLine,
  used: DepthOptions,
): DepthSlices {
  const chosen = chosenSlices(line, used);
  const averaging = averagingKernel(line, chosen);
  const slices = chosen.map((slice, k) => ({ ...slice, toldApart: toldApart(averaging, k) }));
  return {
    campaign: campaign.label,
    time_s: meanTime(campaign),
    chainage_m: line.chainage_m,
    spacing_m: used.spacing_m,
    slices,
    log10Resistivity: sliceMeans(line, slices),
    sd: posteriorSds(line, slices),
    repeatSd: sliceSds(line.noiseCovariance, line.top_m, slices),
    averaging,
    gap: line.gap,
    gapCause: line.gapCause,
    gpsGaps: gpsGaps(campaign, used.spacing_m),
    ...crestOf(campaign, stations),
    height_m: stations.height_m,
    positionSd_m: line.positionSd_m,
    misfit: line.misfit,
    channels: channelFits(stations, line),
    rms: line.rms,
    reliableTo_m: reliableDepth(slices),
    independentLevels: Math.round(100 * line.independentLevels) / 100,
    layers: {
      top_m: line.top_m,
      log10Resistivity: line.log10Resistivity,
      sd: line.sd,
      learned: line.learned,
    },
    ...(line.joint !== null && { strengths: line.joint.hyper.prior.hyperparameters }),
    soilTemperature: campaign.soilTemperature,
    centreline: campaign.centreline,
  };
}

function crestOf({ crest }: Campaign, { chainage_m }: Stations): Partial<DepthSlices> {
  if (crest === undefined) return {};
  return { crestElevation_m: chainage_m.map((x) => crestElevationAt(crest, x)) };
}

function chosenSlices(line: InvertedLine, used: DepthOptions): readonly Slice[] {
  const sdOf = (slice: SliceDepths) => median(posteriorSds(line, [slice])[0]!);
  if (used.slices === "auto") {
    const most = Math.max(1, Math.floor(line.independentLevels));
    const known = (slice: SliceDepths, above: SliceDepths | undefined) =>
      sdOf(slice) <= used.sliceSd &&
      (line.joint === null || above === undefined || differs(line, slice, above));
    return chooseSlices(line.top_m, known, most);
  }
  return used.slices.map(({ top_m, base_m }) => ({
    top_m,
    base_m,
    // Some tolerance, so that slices chosen on one campaign are reliable on its repeat too.
    reliable: sdOf({ top_m, base_m }) <= 1.15 * used.sliceSd,
  }));
}

/** Whether the data halve the standard deviation of the difference of two slices. */
function differs(line: InvertedLine, slice: SliceDepths, above: SliceDepths): boolean {
  const [a, b] = sliceWeights(line.top_m, [slice, above]);
  const weights = a!.map((value, j) => value - b![j]!);
  const spreads = (matrices: InvertedLine["covariance"]) =>
    median(Float64Array.from(matrices, (matrix) => spread(matrix, weights)));
  return spreads(line.covariance) <= 0.5 * spreads([priorCovariance(line)]);
}

function priorCovariance(line: InvertedLine): Float64Array {
  const { factor } = line.prior;
  const m = line.top_m.length;
  return Float64Array.from({ length: m * m }, (_, at) => {
    const [i, j] = [Math.floor(at / m), at % m];
    let sum = 0;
    for (let k = 0; k <= Math.min(i, j); k++) sum += factor[i * m + k]! * factor[j * m + k]!;
    return sum;
  });
}

/** Thickness-weighted means over the slices, n values each. */
function sliceMeans(line: InvertedLine, slices: readonly SliceDepths[]): Float64Array[] {
  const m = line.top_m.length;
  return sliceWeights(line.top_m, slices).map((weights) =>
    line.chainage_m.map((_, i) =>
      weights.reduce((sum, w, j) => (w > 0 ? sum + w * line.log10Resistivity[i * m + j]! : sum), 0),
    ),
  );
}

function posteriorSds(line: InvertedLine, slices: readonly SliceDepths[]): Float64Array[] {
  const weights = sliceWeights(line.top_m, slices);
  return sliceSds(line.covariance, line.top_m, slices).map((sds, k) => {
    const inflation = line.sdInflation(weights[k]!);
    return sds.map((sd) => inflation * sd);
  });
}

/** Standard deviations of these means, log10 units, from each station's whole covariance. */
function sliceSds(
  covariance: InvertedLine["covariance"],
  top_m: Float64Array,
  slices: readonly SliceDepths[],
): Float64Array[] {
  return sliceWeights(top_m, slices).map((weights) =>
    Float64Array.from(covariance, (matrix) => spread(matrix, weights)),
  );
}

/** Standard deviation, log10 units, of a weighted sum of ln conductivities; NaN for a gap. */
function spread(matrix: Float64Array | null, weights: Float64Array): number {
  if (matrix === null) return Number.NaN;
  return Math.sqrt(Math.max(0, quadraticForm(matrix, weights))) / Math.LN10;
}

function meanTime(campaign: Campaign): number {
  let sum = 0;
  let count = 0;
  for (const pass of campaign.passes) {
    for (const time of pass.time_s) {
      if (Number.isNaN(time)) continue;
      sum += time;
      count += 1;
    }
  }
  return count > 0 ? sum / count : Number.NaN;
}

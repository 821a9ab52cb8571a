import { itemAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import { crestElevationAt } from "../../survey/bank/crest-elevation.js";
import type { Campaign } from "../../survey/survey.js";
import type { Stations } from "../data/gather-stations.js";
import { gpsGaps } from "../data/gps-gaps.js";
import type { DepthSlices, Slice } from "../depth-slices.js";
import type { InvertedLine } from "../invert/inverted-line.js";
import type { DepthOptions } from "../options.js";
import { averagingKernel, toldApart } from "./averaging-kernel.js";
import { channelFits } from "./channel-fits.js";
import { chooseSlices, reliableDepth, type SliceDepths } from "./choose-slices.js";
import { isDifferenceResolved, noiseSd, posteriorSd, sliceMean } from "./slice-moments.js";

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
    log10Resistivity: slices.map((slice) => sliceMean(line, slice)),
    sd: slices.map((slice) => posteriorSd(line, slice)),
    repeatSd: slices.map((slice) => noiseSd(line, slice)),
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
    ...quantilesOf(line, slices),
    readings: stations.channels,
    soilTemperature: campaign.soilTemperature,
    centreline: campaign.centreline,
  };
}

/** Quantiles, and the sides that the data bound slices from: of an ensemble alone. */
function quantilesOf({ ensemble }: InvertedLine, slices: readonly Slice[]): Partial<DepthSlices> {
  if (ensemble === null) return {};
  const all = ensemble.quantiles(slices);
  return {
    slices: slices.map((slice, k) => ({ ...slice, bounded: itemAt(all, k).bounded })),
    p10: all.map(({ p10 }) => p10),
    p90: all.map(({ p90 }) => p90),
  };
}

function crestOf({ crest }: Campaign, { chainage_m }: Stations): Partial<DepthSlices> {
  if (crest === undefined) return {};
  return { crestElevation_m: chainage_m.map((x) => crestElevationAt(crest, x)) };
}

function chosenSlices(line: InvertedLine, used: DepthOptions): readonly Slice[] {
  const sdOf = (slice: SliceDepths) => median(posteriorSd(line, slice));
  if (used.slices === "auto") {
    if (line.ensemble !== null) return line.ensemble.choose(used.sliceSd);
    const most = Math.max(1, Math.floor(line.independentLevels));
    const known = (slice: SliceDepths, above: SliceDepths | undefined) =>
      sdOf(slice) <= used.sliceSd &&
      (line.joint === null || above === undefined || isDifferenceResolved(line, slice, above));
    return chooseSlices(line.top_m, known, most);
  }
  return used.slices.map(({ top_m, base_m }) => ({
    top_m,
    base_m,
    // Some tolerance, so that slices chosen on one campaign are reliable on its repeat too.
    reliable: sdOf({ top_m, base_m }) <= 1.15 * used.sliceSd,
  }));
}

function meanTime({ passes }: Campaign): number {
  const times = passes.flatMap((pass) => [...pass.time_s]).filter((time) => !Number.isNaN(time));
  return times.reduce((sum, time) => sum + time, 0) / times.length;
}

import { median } from "../numerics/robust.js";
import type { Caution } from "../result/step-account.js";
import { type Given, resultValue, StepResult } from "../result/step-result.js";
import { accountFor } from "../survey/fate.js";
import type { Campaign } from "../survey/survey.js";
import { averagingKernel } from "./averaging-kernel.js";
import { chooseSlices, reliableDepth, sliceWeights } from "./choose-slices.js";
import { type DepthOptions, depthDefaults, refuseBadDepthInput } from "./depth-options.js";
import type { DepthSlices, Slice } from "./depth-slices.js";
import { depthFigures, depthTable } from "./figure.js";
import { gatherStations } from "./gather-stations.js";
import { type InvertedLine, invertLine } from "./invert-line.js";
import { layerPrior } from "./layer-prior.js";

/**
 * Resistivity by depth along the crest, with its uncertainty and what depth it can be trusted to.
 *
 * Readings are averaged at stations of equal spacing; at each station the most likely layered earth
 * is found under a Gaussian prior on ln conductivity and Gaussian noise (see `invertStation`), with
 * the full layered-earth response of every coil pair. Layers are then averaged (log resistivity,
 * weighted by thickness) over a few slices: as many as the data hold independent levels.
 *
 * @param campaign - a campaign or the result of the step before; set-aside readings are absent.
 *   Channels in ppm, or apparent conductivity in mS/m by the low-induction relation.
 * @param options - see `DepthOptions`; what is left out is `depthDefaults`.
 * @returns slices of log10(ohm-m) at field temperature by station, n × k, with posterior standard
 *   deviations; NaN with its reason where a station has too few channels in use.
 * @throws StepError for options outside their range or a campaign without a usable channel.
 * Limits: each station by itself over a layered earth; the bank's finite width is not modelled.
 * Source: Ward & Hohmann 1988 (response); Tarantola 2005 (estimate); Rodgers 2000 (resolution).
 * @example (await estimateDepthSlices(masked)).value.reliableTo_m // such as 3.4
 */
export async function estimateDepthSlices(
  campaign: Given<Campaign>,
  options: Partial<DepthOptions> = {},
): Promise<StepResult<DepthSlices>> {
  const input = resultValue(campaign);
  const used: DepthOptions = { ...depthDefaults, ...options };
  refuseBadDepthInput(input, used);
  const stations = gatherStations(input, used.spacing_m);
  const line = await invertLine(stations, used);
  const value = toSlices(input, line, used);
  return new StepResult({
    step: "estimateDepthSlices",
    summary: summaryOf(value),
    value,
    used: { ...used, layerTops_m: [...used.layerTops_m], slices: value.slices, progress: null },
    basis: BASIS,
    cautions: cautionsOf(input, value),
    accounting: accountFor([input]),
    figures: depthFigures(value),
    tables: [depthTable(value)],
  });
}

const BASIS = [
  {
    statement: "Full quasi-static response of a layered earth, no low-induction approximation.",
    source: "Wait 1982; Ward & Hohmann 1988",
  },
  {
    statement: "Most likely layered earth under a Gaussian prior, station by station.",
    source: "Tarantola 2005, Inverse Problem Theory",
  },
  {
    statement:
      "Independent levels are the trace of the resolution matrix; a slice is as thin as its mean " +
      "log resistivity is still known to the stated deviation, and the last such slice ends the " +
      "reliable depth.",
    source: "Rodgers 2000, Inverse Methods for Atmospheric Sounding",
  },
];

function toSlices(campaign: Campaign, line: InvertedLine, used: DepthOptions): DepthSlices {
  const sdOf = (top_m: number, base_m: number) => medianSd(line, { top_m, base_m });
  const most = Math.max(1, Math.floor(line.independentLevels));
  const slices: readonly Slice[] =
    used.slices === "auto"
      ? chooseSlices(line.top_m, sdOf, { sd: used.sliceSd, most })
      : used.slices.map(({ top_m, base_m }) => ({
          top_m,
          base_m,
          // A hair of room, so that slices found on one campaign hold on its repeat.
          reliable: sdOf(top_m, base_m) <= 1.15 * used.sliceSd,
        }));
  return {
    campaign: campaign.label,
    time_s: meanTime(campaign),
    chainage_m: line.chainage_m,
    spacing_m: used.spacing_m,
    slices,
    log10Resistivity: sliceMeans(line, slices),
    sd: sliceSds(line.covariance, line.top_m, slices),
    repeatSd: sliceSds(line.noiseCovariance, line.top_m, slices),
    averaging: averagingKernel(line.covariance, line.top_m, {
      prior: layerPrior(line.top_m, used),
      slices,
    }),
    gap: line.gap,
    gapCause: line.gapCause,
    misfit: line.misfit,
    rms: line.rms,
    reliableTo_m: reliableDepth(slices),
    independentLevels: Math.round(100 * line.independentLevels) / 100,
    layers: {
      top_m: line.top_m,
      log10Resistivity: line.log10Resistivity,
      sd: line.sd,
      learned: line.learned,
    },
    soilTemperature: campaign.soilTemperature,
    centreline: campaign.centreline,
  };
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

/** Standard deviations of these means, log10 units, from each station's whole covariance. */
function sliceSds(
  covariance: InvertedLine["covariance"],
  top_m: Float64Array,
  slices: readonly SliceDepths[],
): Float64Array[] {
  const m = top_m.length;
  return sliceWeights(top_m, slices).map((weights) =>
    Float64Array.from(covariance, (matrix) => {
      if (matrix === null) return Number.NaN;
      let variance = 0;
      for (let a = 0; a < m; a++) {
        if (weights[a] === 0) continue;
        for (let b = 0; b < m; b++) variance += weights[a]! * weights[b]! * matrix[a * m + b]!;
      }
      return Math.sqrt(variance) / Math.LN10;
    }),
  );
}

interface SliceDepths {
  readonly top_m: number;
  readonly base_m: number;
}

/** Median over stations of a slice's posterior standard deviation, log10 units. */
function medianSd(line: InvertedLine, slice: SliceDepths): number {
  return median(sliceSds(line.covariance, line.top_m, [slice])[0]!);
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

function summaryOf(value: DepthSlices): string {
  const known = value.gap.filter((gap) => gap === "").length;
  const slices = value.slices.map(
    (slice) => `${slice.top_m.toFixed(1)}–${slice.base_m.toFixed(1)} m`,
  );
  return (
    `Resistivity by depth at ${known} of ${value.gap.length} stations of campaign ` +
    `${value.campaign}. The data hold ${value.independentLevels.toFixed(1)} independent levels and ` +
    `can be trusted to ${value.reliableTo_m.toFixed(1)} m; slices: ${slices.join(", ") || "none"}. ` +
    `Misfit ${value.rms.toFixed(2)} times the noise.`
  );
}

function cautionsOf(campaign: Campaign, value: DepthSlices): Caution[] {
  const texts = [
    `Below ${value.reliableTo_m.toFixed(1)} m the estimate leans on the prior, not on the data.`,
    "Each station is read as a layered earth of endless width; the slopes of the bank lower the " +
      "response and are not modelled.",
  ];
  if (value.slices.length === 0) {
    texts.push("The data decide no layer better than the prior: no slice is handed on.");
  }
  if (value.rms > 1.5) {
    texts.push(
      `The misfit is ${value.rms.toFixed(1)} times the stated noise: drift, metal or a noise model ` +
        "that is too hopeful is left in the data.",
    );
  }
  const channels = campaign.passes.flatMap((pass) => pass.instrument.channels);
  if (channels.some((channel) => channel.kind === "conductivity")) {
    texts.push(
      "Apparent conductivities were turned back into quadrature by the low-induction relation; " +
        "an instrument that states another conductivity needs its own conversion first.",
    );
  }
  return texts.map((text) => ({ step: "estimateDepthSlices", text }));
}

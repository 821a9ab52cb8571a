import type { Caution } from "../step/step-account.js";
import { type Given, resultValue, StepResult } from "../step/step-result.js";
import { accountFor } from "../survey/account/reading-status.js";
import type { Campaign } from "../survey/survey.js";
import { gatherStations } from "./data/gather-stations.js";
import type { DepthSlices } from "./depth-slices.js";
import { depthFigures, depthTables } from "./figures.js";
import { type InvertedLine, jointLine } from "./invert/inverted-line.js";
import { stationLine } from "./invert/station-line.js";
import { type DepthOptions, depthDefaults, refuseBadDepthInput } from "./options.js";
import { depthSlicesOf } from "./slices/depth-slices-of.js";
import { drawSlices } from "./slices/draw-slices.js";

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
 * Limits: layered earths of endless width under each station; the bank's slopes are not modelled.
 * With `together: "line"` mean and spread are those of draws by randomised maximum likelihood. Over
 * surveys drawn from the usual prior 80 % intervals hold 79 %, and the truth has every rank among the
 * draws about equally often; where few channels meet a tight prior, the mean of a middle slice lies
 * up to a third of a deviation to the resistive side.
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
  const line =
    used.together === "line"
      ? await jointLine(input, stations, used)
      : await stationLine(stations, used);
  const slices = depthSlicesOf({ campaign: input, stations }, line, used);
  const value = await withDraws(slices, line, used);
  return new StepResult({
    step: "estimateDepthSlices",
    summary: summaryOf(value),
    value,
    used: usedOf(used, value),
    basis: [...BASIS, ...(used.together === "line" ? TOGETHER : ALONE)],
    cautions: cautionsOf(input, value),
    accounting: accountFor([input]),
    figures: depthFigures(value),
    tables: depthTables(value),
  });
}

async function withDraws(
  slices: DepthSlices,
  line: InvertedLine,
  used: DepthOptions,
): Promise<DepthSlices> {
  if (line.settled === null || used.draws === 0) return slices;
  return {
    ...slices,
    draws: await drawSlices(line, line.settled, { slices: slices.slices, used }),
  };
}

/** Of the options, what an account needs to tell: slices as they came out, no callback. */
function usedOf({ progress: _, ...used }: DepthOptions, value: DepthSlices) {
  const slices = value.slices.map(({ top_m, base_m }) => ({ top_m, base_m }));
  return { ...used, layerTops_m: [...used.layerTops_m], ties: [...used.ties], slices };
}

const BASIS = [
  {
    statement: "Full quasi-static response of a layered earth, no low-induction approximation.",
    source: "Wait 1982; Ward & Hohmann 1988",
  },
  {
    statement:
      "Independent levels are the trace of the resolution matrix; a slice is as thin as its mean " +
      "log resistivity is still known to the stated deviation, and the last such slice ends the " +
      "reliable depth.",
    source: "Rodgers 2000, Inverse Methods for Atmospheric Sounding",
  },
];

const ALONE = [
  {
    statement: "Most likely layered earth under a Gaussian prior, station by station.",
    source: "Tarantola 2005, Inverse Problem Theory",
  },
];

const TOGETHER = [
  {
    statement:
      "Most likely layered earths of all stations together under a Gaussian Markov random field.",
    source: "Auken & Christiansen 2004; Rue & Held 2005, Gaussian Markov Random Fields",
  },
  {
    statement: "Strengths of the prior and noise of each channel by the readings' likelihood.",
    source: "MacKay 1992, Bayesian Interpolation; Dempster, Laird & Rubin 1977",
  },
  {
    statement: "Mean and spread over draws by randomised maximum likelihood.",
    source: "Ba, de Wiljes, Oliver & Reich 2021, arXiv 2101.03612",
  },
];

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

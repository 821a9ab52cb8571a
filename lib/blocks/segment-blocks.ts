import { depthSlicesFaults } from "../depth/check-depth-slices.js";
import type { DepthSlices } from "../depth/depth-slices.js";
import { defineStep, runStep } from "../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../step/step-result.js";
import { blocksReport } from "./account.js";
import type { Blocks } from "./blocks.js";
import { blocksAlong } from "./blocks-along.js";
import { type SegmentBlocksOptions, segmentBlocksOptions } from "./options.js";

export const blocksStep = defineStep({
  name: "segmentBlocks",
  options: segmentBlocksOptions,
  faults: (given: DepthSlices) => depthSlicesFaults(given, "slices"),
  run: blocksAlong,
  report: blocksReport,
});

/**
 * Cuts the line into blocks: stretches of like ground, with boundary intervals and classes.
 *
 * The reliable slices' log10 resistivities are cut at once by `findChangePoints`, exactly. What
 * counts as noise is the scatter within blocks, estimated about the cut itself and raised for two
 * resemblances: of neighbouring stations (its long-run variance takes the place of the variance)
 * and of slices (d columns count as d² / Σ r² columns). It is never taken below the slices' own sd,
 * and a station that is less certain than most counts for less.
 *
 * Certainty comes from the exact posterior over all cuts, each with weight exp(−½ objective) at the
 * price of "mbic": the 90 % interval of the k-th boundary given as many boundaries, the probability
 * that there is a boundary at all, and that of the number of boundaries. An interval is narrowed to
 * the noise of means as short as itself, which err by less than the long-run noise says, and widened by
 * what the readings' own places leave in doubt (`positionSd_m` of the slices).
 *
 * Classes are a mixture of normal distributions over the blocks' medians, their number by the Bayes
 * information criterion.
 *
 * @param slices n stations × k slices of log10(ohm-m), plain or as the result of the step before.
 * @param options see `segmentBlocksOptions`; what is left out is `segmentBlocksDefaults`.
 * @returns the blocks by chainage, without gaps or overlaps; resistivities (median, 10 % and 90 %
 *   points over the block's stations) in ohm-m at field temperature for the reliable slices; the
 *   posterior along the line; the best cuts at other prices.
 *
 * Missing values: stations without estimate belong to the block around them and are counted in
 * `masked_pct`; a boundary inside a gap stands in its middle with an interval over the whole gap.
 * Without a reliable slice or a station with an estimate there are no blocks, and a caution says so.
 *
 * Limits: a block is taken to be level along the line; ground that grades is cut where the
 * step is best. Blocks shorter than `minLength_m` are not seen, and neighbours that resemble each
 * other over more than half of it are noise that looks like blocks. The posterior takes the noise
 * as known; its time grows with the square of the longest block. A class is not a soil.
 *
 * Throws a StepError with every fault of the slices and options.
 *
 * Source: Jackson et al. 2005; Killick, Fearnhead & Eckley 2012; Zhang & Siegmund 2007 (cut);
 * Wu & Zhao 2007 (long-run variance); Fearnhead 2006 (posterior); Haynes, Eckley & Fearnhead 2017
 * (other prices); Fraley & Raftery 2002 (classes).
 *
 * @example segmentBlocks(slices).value.blocks[0].class // such as "C"
 */
export function segmentBlocks(
  slices: Given<DepthSlices>,
  options: Partial<SegmentBlocksOptions> = {},
): StepResult<Blocks> {
  return runStep(blocksStep, resultValue(slices), options);
}

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
 * Segments the line into blocks of similar ground, with boundary intervals and classes.
 *
 * The log10 resistivities of the reliable slices are segmented jointly and exactly, as by
 * `findChangePoints`. The noise is the scatter within blocks, estimated about the segmentation
 * itself and raised for two correlations: of neighbouring stations (the long-run variance in place
 * of the variance) and of slices (d columns count as d² / Σ r² columns). It is never below the
 * slices' own sd, and a station that is less certain than most has a lower weight.
 *
 * Uncertainty comes from the exact posterior over all segmentations, each with weight
 * exp(−½ objective) at the price of "mbic": the 90 % interval of the k-th boundary given the number
 * of boundaries, the probability that the boundary exists, and that of the number of boundaries. An
 * interval is narrowed to the noise of means over its own width, which is less than the long-run
 * noise, and widened by the standard deviation of the positions (`positionSd_m` of the slices).
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
 * Without a reliable slice or a station with an estimate there are no blocks, and a caution says
 * so.
 *
 * Limits: a block is assumed to be level along the line; ground that grades is cut where a step
 * fits best. Blocks shorter than `minLength_m` are not resolved, and noise that is correlated over
 * more than half of it looks like blocks. The posterior takes the noise as known; its time grows
 * with the square of the longest block. A class is not a soil.
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

import { depthSlicesFaults } from "../depth/check-depth-slices.js";
import type { DepthSlices } from "../depth/depth-slices.js";
import { defineStep, runStep } from "../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../step/step-result.js";
import { blocksReport } from "./account.js";
import type { Blocks } from "./blocks.js";
import { blocksAlong } from "./blocks-along.js";
import { cuttable } from "./cuttable.js";
import { type SegmentBlocksOptions, segmentBlocksOptions } from "./options.js";

export const blocksStep = defineStep({
  name: "segmentBlocks",
  options: segmentBlocksOptions,
  faults: (given: DepthSlices) => depthSlicesFaults(given, "slices"),
  run: (given: DepthSlices, used) => blocksAlong(cuttable(given), used),
  report: blocksReport,
});

/**
 * Segments the line into blocks of similar ground, with boundary intervals and classes.
 *
 * The log10 resistivities of the reliable slices are white noise, a texture that is alike over 2 to
 * 30 m, a level that may wander or tend, and steps. Candidates for steps are cut liberally and
 * exactly, as by `findChangePoints`; of these stay those that are worth 2 ln n for their place and
 * ln(1 + information) for their size by the Gaussian likelihood (a Kalman filter), the shape of the
 * scatter being fitted anew with and without each. d slices count as d over the greatest eigenvalue
 * of their correlations. The long-run variance is never below the slices' own sd, and a station
 * that is less certain than most has a lower weight.
 *
 * The probability of a boundary is that of a step against a ramp, a wandering level and nothing;
 * less than 0.7 is no boundary. Its 90 % interval is from the likelihood of its places, the other
 * boundaries staying, widened by the standard deviation of the positions (`positionSd_m` of the
 * slices). A block through which the ground changes steadily is told as such (`trend`), and the
 * least step that would be seen in it (`leastStep_pct`).
 *
 * With a price of its own, "mean and spread" or independent noise the cut is the exact optimum at
 * that price, and probabilities and intervals are from the exact posterior over all segmentations.
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
 * Where no slice is reliable by itself all are cut, by their differences along the line, and a
 * caution says so; without a station with an estimate there are no blocks.
 *
 * Limits: blocks shorter than `minLength_m` are not resolved; such ground is named (`shortBodies`)
 * where it differs by a factor of two or more from both sides. Boundaries are taken for independent
 * in the probability of their number. Few small steps in ground of rough texture may pass for a
 * level that wanders: their power is in tests/calibration.md. A class is not a soil.
 *
 * Throws a StepError with every fault of the slices and options.
 *
 * Source: Jackson et al. 2005; Killick, Fearnhead & Eckley 2012; Zhang & Siegmund 2007 (cut);
 * Durbin & Koopman 2012 (likelihood); Wu & Zhao 2007 (long-run variance); Fearnhead 2006
 * (posterior); Haynes, Eckley & Fearnhead 2017 (other prices); Fraley & Raftery 2002 (classes).
 *
 * @example segmentBlocks(slices).value.blocks[0].class // such as "C"
 */
export function segmentBlocks(
  slices: Given<DepthSlices>,
  options: Partial<SegmentBlocksOptions> = {},
): StepResult<Blocks> {
  return runStep(blocksStep, resultValue(slices), options);
}

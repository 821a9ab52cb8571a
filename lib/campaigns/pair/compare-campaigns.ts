import type { DepthSlices } from "../../depth/depth-slices.js";
import { defineStep, runStep } from "../../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../../step/step-result.js";
import { changesReport } from "./account.js";
import type { Changes } from "./changes.js";
import { pairFaults } from "./check-pair.js";
import { comparison } from "./comparison.js";
import { type CompareOptions, compareOptions } from "./options.js";

export const compareStep = defineStep({
  name: "compareCampaigns",
  options: compareOptions,
  faults: pairFaults,
  run: comparison,
  report: changesReport,
});

/**
 * Finds where the resistivity of the ground changed between two campaigns, by the channels that
 * both walked with the same coils.
 *
 * The later campaign is co-registered to the earlier one walk by walk (`alignLater`). The difference
 * of each channel at each station, less what season (soil temperature by depth and date) and stated
 * heights make of it over the earlier campaign's layers, is fitted for all channels at once by what
 * is common to the line: zero and gain of each channel, height of each walk, the season's level,
 * amplitude and phase; weights keep changed stretches out. From a step on, the coils may be at
 * another height (`offsetsAt_m`, or found). What is left is scanned: for stretches of all lengths
 * the likelihood ratio of a change of the ground, with the noise of stable stretches of that length
 * and the errors of position, season and heights. The most telling stretch is given to the ground,
 * or to height or zeros, by the evidence; then the line is fitted and scanned anew. The ratio by
 * depth weighs changes that fill the ground between any two depths, over earths that meet the
 * earlier readings (`ratioPosterior`).
 *
 * Campaigns that share no channel, or whose readings are not known, are compared by their depth
 * slices, and a caution says so: the moving means of log10 ratio of each slice, less its median, are
 * tested with false discoveries held over stations and slices, and freed of the averaging kernels.
 *
 * @param earlier n stations × k slices, plain or as the result of the step before.
 * @param later the same of the later campaign, with the same spacing.
 * @param options see `compareOptions`; what is left out is `compareDefaults`.
 * @returns the stretches by chainage, the differences by slice (log10), what was taken for height or
 *   zeros, and what is unknown.
 *
 * Missing values: stations without a reading in either campaign are unknown, listed as such, and
 * never counted as unchanged. Where either campaign lacks soil temperatures neither is corrected,
 * and a caution says so; with a level removed, that matters only where temperature varies along.
 *
 * Limits: with a level removed, a change of the whole line is not detected. Frequencies at one
 * separation hardly tell a height from the ground: a stretch to the end of the line is then given to
 * a second operator, one within the line to the ground, and `heightOffset_m` stands beside it.
 * Stretches shorter than `minLength_m` are missed. Detection and false-alarm rates:
 * tests/calibration.md.
 *
 * Throws a StepError with every fault of the campaigns and options.
 *
 * Source: Sheets & Hendrickx 1995, Corwin & Lesch 2005 (25 °C); Huber & Ronchetti 2009 (weights);
 * Siegmund & Yakir 2000 (scan statistics, from memory); Benjamini & Hochberg 1995 (slices).
 *
 * @example compareCampaigns(autumn, spring).value.changes[0].direction // such as "fell"
 */
export function compareCampaigns(
  earlier: Given<DepthSlices>,
  later: Given<DepthSlices>,
  options: Partial<CompareOptions> = {},
): StepResult<Changes> {
  const pair = { earlier: resultValue(earlier), later: resultValue(later) };
  return runStep(compareStep, pair, options);
}

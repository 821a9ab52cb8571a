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
 * Finds where the resistivity of the ground changed between two campaigns.
 *
 * The later campaign is first co-registered to the earlier one by the texture of the ground
 * (`alignLater`). At each shared station and slice: d = log10 later − log10 earlier, each at 25 °C
 * by the soil temperature of its depth and date, less the level of the slice (its median over
 * stations that did not change), as moving means over two lengths. Each is tested against no change
 * with two errors: the estimates' own × a robust scatter of 1 or more, and a mismatch of positions
 * times the ground's slope along the line. p-values are adjusted for false discoveries over all
 * stations and slices, and significant stations joined into stretches that end at half height; the
 * least p-values of the stretches are adjusted once more, so that each stretch is significant by
 * itself. The effect is a ratio by slice with a 90 % interval (`effectBySlice`), corrected for the
 * estimates' averaging kernels where the campaigns give them.
 *
 * @param earlier n stations × k slices, plain or as the result of the step before.
 * @param later the same of the later campaign, with the same spacing.
 * @param options see `compareOptions`; what is left out is `compareDefaults`.
 * @returns the stretches by chainage, the tested differences (log10) and what is unknown.
 *
 * Missing values: stations without estimate in either campaign are unknown, listed as such, and
 * never counted as unchanged. Where either campaign lacks soil temperatures neither is corrected,
 * and a caution says so; with a level removed, that matters only where temperature varies along.
 *
 * Limits: with a level removed, a change of the whole line is not detected. Ratios assume unchanged
 * ground below the shared slices. Stretches much shorter than `smoothing_m` are missed. Detection
 * and false-alarm rates: tests/calibration.md.
 *
 * Throws a StepError with every fault of the campaigns and options.
 *
 * Source: Sheets & Hendrickx 1995, Corwin & Lesch 2005 (25 °C); Benjamini & Hochberg 1995 (false
 * discoveries); Hampel 1974 and Huber 1964 (robust scatter).
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

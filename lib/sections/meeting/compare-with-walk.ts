import type { DepthSlices } from "../../depth/depth-slices.js";
import { sliceColumns } from "../../depth/slices/slice-columns.js";
import { defineStep, runStep } from "../../step/define-step.js";
import type { Fault } from "../../step/step-error.js";
import { type Given, resultValue, type StepResult } from "../../step/step-result.js";
import type { Section } from "../section.js";
import { meetingReport } from "./account.js";
import type { MeetingSlice, SectionMeetsWalk } from "./meeting.js";
import { type MeetingOptions, meetingOptions } from "./options.js";
import { columnAt, sliceOfSection } from "./slice-of-section.js";

interface Both {
  readonly section: Section;
  readonly slices: DepthSlices;
}

export const meetingStep = defineStep({
  name: "compareWithWalk",
  options: meetingOptions,
  faults: meetingFaults,
  run: ({ section, slices }: Both) => meeting(section, slices),
  report: meetingReport,
});

/**
 * Sets a resistivity section beside the depth slices of a walk over the same ground.
 *
 * For each slice and station the section's mean log10 resistivity between the slice's depths, with
 * its spread over the posterior draws, and d = (walk − section) / √(sd² + sd²).
 *
 * @param section - a section along the walked line, or the result of `invertSection`.
 * @param slices - depth slices or the result of `estimateDepthSlices`; NaN stations stay NaN.
 * @param options - see `MeetingOptions`.
 * @returns both with their spreads at the stations over the section, and their disagreement.
 *   Where no station is over the section both are empty, and it says so.
 * @throws StepError for a line that runs across or beside the walk.
 * Limits: the section looks a few metres to either side of the line, the walk's coils less; both at
 * the temperature of their own day. A spread that leaves out what a method cannot know (the bank's
 * shape, a zero that is off) makes the disagreement greater.
 * Source: common practice.
 * @example compareWithWalk(section, slices).value.slices[0].rms // such as 1.2
 */
export function compareWithWalk(
  section: Given<Section>,
  slices: Given<DepthSlices>,
  options: Partial<MeetingOptions> = {},
): StepResult<SectionMeetsWalk> {
  const input = { section: resultValue(section), slices: resultValue(slices) };
  return runStep(meetingStep, input, options);
}

function meetingFaults({ section }: Both, { beside_m }: MeetingOptions): Fault[] {
  const path = `line ${section.line}`;
  if (section.runs === "along" && Math.abs(section.offset_m) <= beside_m) return [];
  const expected = `along the walked line, within ${beside_m} m of the centreline`;
  const received = section.runs === "across" ? "across" : `${section.offset_m} m off`;
  return [{ code: "not-along", path, expected, received }];
}

function meeting(section: Section, slices: DepthSlices): SectionMeetsWalk {
  const places = Array.from(slices.chainage_m, (at_m, station) => {
    return { at_m, station, column: columnAt(section, at_m - section.chainage_m) };
  }).filter(({ column }) => column >= 0);
  const met = sliceColumns(slices).map(({ slice, mean, sd }): MeetingSlice => {
    const below = places.map(({ column }) => sliceOfSection(section, column, slice));
    const walk = Float64Array.from(places, ({ station }) => mean[station]!);
    const walkSd = Float64Array.from(places, ({ station }) => sd[station]!);
    const disagreement = walk.map(
      (value, i) => (value - below[i]!.mean) / Math.hypot(walkSd[i]!, below[i]!.sd),
    );
    const known = Array.from(disagreement.keys()).filter((i) => Number.isFinite(disagreement[i]!));
    const meanOf = (of: (i: number) => number) =>
      known.reduce((sum, i) => sum + of(i), 0) / known.length;
    return {
      ...{ top_m: slice.top_m, base_m: slice.base_m, walk, walkSd, disagreement },
      section: Float64Array.from(below, (one) => one.mean),
      sectionSd: Float64Array.from(below, (one) => one.sd),
      shift: meanOf((i) => walk[i]! - below[i]!.mean),
      rms: Math.sqrt(meanOf((i) => disagreement[i]! ** 2)),
    };
  });
  const { line } = section;
  const chainage_m = Float64Array.from(places, ({ at_m }) => at_m);
  return { ...{ line, chainage_m, slices: met }, campaign: slices.campaign };
}

import type { DepthSlices } from "../../depth/depth-slices.js";
import { stripSpec } from "../../figures/strip/strip.js";
import { NORMAL_90 } from "../../numerics/statistics/normal.js";
import type { StepReport } from "../../step/define-step.js";
import type { Figure, Table } from "../../step/figure.js";
import { drawnCellsOf } from "../figures/section-cells.js";
import type { Section } from "../section.js";
import type { MeetingSlice, SectionMeetsWalk } from "./meeting.js";
import type { MeetingOptions } from "./options.js";

/** Disagreement, in standard deviations, from which one of the two spreads is too small. */
const TOO_FAR = 2;

/** What `compareWithWalk` says of itself. */
export function meetingReport(
  value: SectionMeetsWalk,
  _: MeetingOptions,
  { section, slices }: { readonly section: Section; readonly slices: DepthSlices },
): StepReport<SectionMeetsWalk> {
  const far = value.slices.filter(({ rms }) => rms > TOO_FAR).map(sliceText);
  const cautions = [
    "Both methods see resistivity and neither sees soil; where they agree, both may still be wrong " +
      "about what it means.",
    ...(far.length === 0
      ? []
      : [
          `Walk and section differ by more than their spreads allow: ${far.join(", ")}. One of the ` +
            "spreads leaves something out: the bank's shape, a zero that is off, ground to the side.",
        ]),
    ...(section.campaign === null || section.campaign === slices.campaign
      ? []
      : [`The section is of campaign ${section.campaign}, the walk of ${slices.campaign}.`]),
  ];
  return {
    value,
    summary: `${findingOf(value)}.`,
    basis: [{ statement: "Two methods over one ground.", source: "common practice" }],
    cautions,
    figures: [meetingFigure(value, section)],
    tables: [meetingTable(value)],
  };
}

const sliceText = ({ top_m, base_m }: MeetingSlice) => `${top_m.toFixed(1)}–${base_m.toFixed(1)} m`;

function findingOf({ line, slices, chainage_m }: SectionMeetsWalk): string {
  if (chainage_m.length === 0) return `No station of the walk lies over line ${line}`;
  if (slices.length === 0) return `The walk has no slice to set beside line ${line}`;
  const worst = slices.reduce((most, slice) => (slice.rms > most.rms ? slice : most));
  const by = `${worst.rms.toFixed(1)} standard deviations`;
  return worst.rms > TOO_FAR
    ? `Line ${line} and the walk disagree at ${sliceText(worst)} depth, by ${by}`
    : `Line ${line} and the walk agree within ${by} at every depth`;
}

function meetingFigure(value: SectionMeetsWalk, section: Section): Figure {
  const title = findingOf(value);
  const x = value.chainage_m;
  const series = (name: string, [mean, sd]: readonly [Float64Array, Float64Array]) => ({
    ...{ name, x, y: mean.map((one) => 10 ** one) },
    lo: mean.map((one, i) => 10 ** (one - NORMAL_90 * sd[i]!)),
    hi: mean.map((one, i) => 10 ** (one + NORMAL_90 * sd[i]!)),
  });
  return {
    id: `section-meets-walk-${value.line}`,
    title,
    caption:
      "Mean resistivity of each slice by the walk and by the section, at the temperature of the " +
      "day; bands hold the truth with 80 % probability by each method's own account. Below, the " +
      "section, faded where its readings do not decide.",
    spec: stripSpec({
      title,
      panels: [
        ...value.slices.map((slice) => ({
          kind: "lines" as const,
          label: `${sliceText(slice)} (ohm-m)`,
          scale: "log" as const,
          height_px: 90,
          series: [
            series("walk", [slice.walk, slice.walkSd]),
            series("section", [slice.section, slice.sectionSd]),
          ],
        })),
        {
          kind: "cells" as const,
          label: "Resistivity under the line (ohm-m)",
          unit: "ohm-m",
          cells: drawnCellsOf(section),
          height_px: 170,
          elevationLabel: "Elevation (m above datum)",
        },
      ],
    }),
  };
}

function meetingTable({ slices, line }: SectionMeetsWalk): Table {
  return {
    id: `section-meets-walk-${line}`,
    caption: "Walk against section by slice",
    columns: [
      { field: "top_m", label: "Top (m)", digits: 1 },
      { field: "base_m", label: "Base (m)", digits: 1 },
      { field: "ratio", label: "Walk over section", digits: 2 },
      { field: "rms", label: "Disagreement (sd)", digits: 2 },
    ],
    rows: slices.map(({ top_m, base_m, shift, rms }) => {
      return { top_m, base_m, ratio: 10 ** shift, rms };
    }),
  };
}

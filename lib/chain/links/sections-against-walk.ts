import type { DepthSlices } from "../../depth/depth-slices.js";
import { compareWithWalk } from "../../sections/meeting/compare-with-walk.js";
import type { MeetingSlice } from "../../sections/meeting/meeting.js";
import { meetingDefaults } from "../../sections/meeting/options.js";
import type { Section } from "../../sections/section.js";
import { listText } from "../../step/list-text.js";
import { referenceOf, type Work } from "../work.js";

/** Disagreement in standard deviations, and as a ratio, from which one of the two is off. */
const TOO_FAR = 2;
const TOO_DIFFERENT = 1.25;

/** Which sections along the walked line contradict the walk, a sentence each. */
export function sectionsAgainstWalk(work: Work): readonly string[] {
  return (work.sections ?? []).flatMap(({ value }) => {
    const isBeside = Math.abs(value.offset_m) <= meetingDefaults.beside_m;
    const text =
      value.runs === "along" && isBeside ? disagreement(value, walkOf(work, value)) : null;
    return text === null ? [] : [text];
  });
}

/** The walk of the section's own campaign, where there is one. */
function walkOf(work: Work, { campaign }: Section): DepthSlices {
  const own = work.slices.find(({ value }) => value.campaign === campaign);
  return (own ?? referenceOf(work)).value;
}

function disagreement(section: Section, walk: DepthSlices): string | null {
  const { slices, line } = compareWithWalk(section, walk).value;
  const far = slices.filter(
    ({ rms, shift }) => rms > TOO_FAR && Math.abs(shift) > Math.log10(TOO_DIFFERENT),
  );
  if (far.length === 0) return null;
  const lens = far.some(({ shift }) => shift < 0)
    ? "Coils hardly see a resistive layer, such as a sand lens, where a section does. Otherwise one"
    : "One";
  return (
    `Line ${line} and the walk disagree: the walk reads ${listText(far.map(timesText))} what the ` +
    `section shows. ${lens} of them is off: spacing or place of the electrodes noted wrongly, ` +
    "height or zero of the coils, ground to the side, the bank's shape. Rely on neither there " +
    "until it is known which."
  );
}

const timesText = ({ top_m, base_m, shift, rms }: MeetingSlice) =>
  `${(10 ** shift).toFixed(2)} times at ${top_m.toFixed(1)}–${base_m.toFixed(1)} m ` +
  `(${rms.toFixed(1)} standard deviations)`;

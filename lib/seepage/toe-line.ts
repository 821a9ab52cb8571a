import type { DepthSlices } from "../depth/depth-slices.js";
import type { Survey, WalkedLine } from "../survey/survey.js";

/** A line beside the one that is scored, and its resistivity by depth. */
export interface LineSlices extends WalkedLine {
  /** Null where it has no estimate. */
  readonly slices: DepthSlices | null;
}

/** A line with an estimate. */
export interface LandsideLine extends WalkedLine {
  readonly slices: DepthSlices;
}

/** The line nearest to the crest of those walked on the landside beyond it; null without one. */
export function landsideLine(survey: Survey, lines: readonly LineSlices[]): LandsideLine | null {
  const [first = Number.NaN] = survey.centreline.chainage_m;
  const crest_m = (survey.crossSectionAt(first).crestWidth_m ?? 0) / 2;
  const own_m = survey.walkedLine?.offset_m ?? 0;
  const beyond = ({ offset_m }: WalkedLine) => {
    const left_m = offset_m - own_m;
    if (survey.waterside === null) return Math.abs(left_m);
    return survey.waterside === "left" ? -left_m : left_m;
  };
  const landside = lines.flatMap(({ slices, ...line }) =>
    slices !== null && beyond(line) > crest_m ? [{ ...line, slices }] : [],
  );
  return landside.toSorted((one, other) => beyond(one) - beyond(other))[0] ?? null;
}

import type { DepthSlices } from "../depth/depth-slices.js";
import { itemAt } from "../numerics/arrays.js";
import { median } from "../numerics/statistics/robust.js";
import type { Survey, WalkedLine } from "../survey/survey.js";
import { above, type Cells, estimateAt, overCells, type Presence, percent } from "./evidence.js";

/** A line beside the one that is scored, and its resistivity by depth. */
export interface LineSlices extends WalkedLine {
  /** Null where it has no estimate. */
  readonly slices: DepthSlices | null;
}

/** A line with an estimate. */
export interface LandsideLine extends WalkedLine {
  readonly slices: DepthSlices;
}

/**
 * Probability that the ground along the landside toe is at least `ratio` times as resistive as it is
 * along half of that line, in the reliable slice where that is likeliest.
 */
export function toeContrast(cells: Cells, { line, slices }: LandsideLine, ratio: number): Presence {
  const contrast = Math.log10(ratio);
  const usual = slices.log10Resistivity.map(median);
  const value = overCells(cells, slices, (i) => {
    const chances = [...slices.slices.keys()]
      .filter((k) => slices.slices[k]?.reliable)
      .map((k) => ({ ...estimateAt(slices, k, i), usual: itemAt(usual, k) }))
      .filter(({ log10 }) => !Number.isNaN(log10))
      .map((here) => above((here.log10 - here.usual - contrast) / here.sd));
    return chances.length === 0 ? Number.NaN : Math.max(...chances);
  });
  return {
    name: "contrast at the toe",
    value,
    statement: (share) =>
      `${percent(share)} likely that the ground along the line ${line} is at least ` +
      `${ratio.toFixed(1)} times as resistive here as along half of that line.`,
  };
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

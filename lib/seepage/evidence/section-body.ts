import { factorTo25 } from "../../earth/temperature.js";
import { temperatureProfile } from "../../earth/temperature-profile.js";
import { neighbours, valueAt } from "../../numerics/arrays.js";
import { presentMean } from "../../numerics/statistics/present.js";
import type { Section } from "../../sections/section.js";
import type { Survey } from "../../survey/survey.js";
import type { Pervious } from "../pervious-threshold.js";
import { type Cells, type Presence, percent, type Stretch, unknownPiece } from "./piece.js";

const NAME = "section anomaly";
/** Depth to which a section is asked where the bank's height is not known, m. */
const USUAL_HEIGHT_M = 4;

/** Chance of a pervious body under one place of a section. */
interface Answer {
  readonly line: string;
  readonly chainage_m: number;
  readonly half_m: number;
  readonly share: number;
}

/**
 * Bodies over the threshold at 25 °C in the sections: the share of posterior draws in which the
 * reliable cells of a column hold at least `least_m` of such ground within the bank's height.
 * Columns without a reliable cell there, and places that no line crosses, are unknown.
 */
export function sectionBody(
  cells: Cells,
  { survey, sections }: { readonly survey: Survey; readonly sections: readonly Section[] },
  pervious: Pervious,
): Presence {
  if (sections.length === 0) return unknownPiece(cells, NAME, "Not known: no resistivity section.");
  const answers = sections.flatMap((section) => answersOf(section, survey, pervious));
  const value = cells.chainage_m.map((x) =>
    presentMean(
      answers
        .filter((one) => Math.abs(one.chainage_m - x) <= one.half_m + cells.half_m)
        .map(({ share }) => share),
    ),
  );
  return {
    name: NAME,
    value,
    source: "resistivity sections: posterior draws of reliable cells, ground even across the line",
    statement: (share, stretch) =>
      `${percent(share)} likely that a body over ${(10 ** pervious.log10).toFixed(0)} ohm-m, ` +
      `${pervious.least_m.toFixed(1)} m thick or more, lies in the bank (${linesIn(answers, stretch)}).`,
    unknown: "Not known here: no section with reliable cells crosses.",
  };
}

function linesIn(answers: readonly Answer[], { from_m, to_m }: Stretch): string {
  const crossing = answers.filter((one) => one.chainage_m >= from_m && one.chainage_m <= to_m);
  return `section ${[...new Set(crossing.map(({ line }) => line))].join(", ")}`;
}

/** One an along line's column; of a line across, its likeliest column within the bank's base. */
function answersOf(section: Section, survey: Survey, pervious: Pervious): readonly Answer[] {
  const { x_m } = section.cells;
  const ends = section.electrodes.map((electrode) => electrode.x_m);
  const [first, last] = [Math.min(...ends), Math.max(...ends)];
  const shape = survey.crossSectionAt(section.chainage_m);
  const { crestElevation_m: crest_m, foundationElevation_m: foot_m } = shape;
  const height_m = crest_m !== null && foot_m !== null ? crest_m - foot_m : USUAL_HEIGHT_M;
  const rows = rowsWithin(section, survey, height_m);
  const { line } = section;
  const answers = neighbours(x_m).flatMap(([from, to], column): Answer[] => {
    if (from < first || to > last) return [];
    const share = shareOf(section, column, { rows, pervious });
    const chainage_m = section.chainage_m + (from + to) / 2;
    return [{ line, chainage_m, half_m: (to - from) / 2, share }];
  });
  if (section.runs === "along") return answers;
  const shares = answers.map(({ share }) => share).filter((share) => !Number.isNaN(share));
  if (shares.length === 0) return [];
  const { chainage_m } = section;
  return [{ line, chainage_m, half_m: ACROSS_M, share: Math.max(...shares) }];
}

/** A line across speaks for so much of the bank on either side, m. */
const ACROSS_M = 2.5;

interface Row {
  readonly row: number;
  readonly thickness_m: number;
  /** Added to log10 to bring it to 25 °C. */
  readonly shift: number;
}

function rowsWithin({ cells, campaign }: Section, survey: Survey, height_m: number): Row[] {
  const walk = survey.campaigns.find(({ label }) => label === campaign) ?? survey.campaigns[0];
  const time_s = walk?.passes[0]?.time_s.find((t) => !Number.isNaN(t)) ?? Number.NaN;
  const profile = temperatureProfile(survey.soilTemperature, time_s);
  return neighbours(cells.depth_m).flatMap(([top, base], row) => {
    if (top >= height_m || row === cells.depth_m.length - 2) return [];
    const factor = profile === null ? 1 : factorTo25(profile.at((top + base) / 2));
    const thickness_m = Math.min(base, height_m) - top;
    return [{ row, thickness_m, shift: Number.isNaN(factor) ? 0 : -Math.log10(factor) }];
  });
}

function shareOf(
  { cells }: Section,
  column: number,
  { rows, pervious }: { readonly rows: readonly Row[]; readonly pervious: Pervious },
): number {
  const down = cells.depth_m.length - 1;
  const known = rows.filter(({ row }) => cells.reliable[column * down + row] === 1);
  const known_m = known.reduce((sum, { thickness_m }) => sum + thickness_m, 0);
  if (known_m < pervious.least_m) return Number.NaN;
  const holds = cells.draws.map((draw) => {
    let thick_m = 0;
    for (const { row, thickness_m, shift } of known) {
      if (valueAt(draw, column * down + row) + shift >= pervious.log10) thick_m += thickness_m;
    }
    return thick_m >= pervious.least_m ? 1 : 0;
  });
  return presentMean(holds);
}

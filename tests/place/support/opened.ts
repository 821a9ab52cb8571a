// Sketched walks, written to a folder and opened.
import type { OpenSurveyOptions } from "../../../lib/place/open-options.js";
import { openSurvey } from "../../../lib/place/open-survey.js";
import { placeReadings } from "../../../lib/place/place-readings.js";
import { inFolder, type SketchedFolder } from "../../survey/support/survey-folder.js";
import { type WalkSketch, walkedSurvey } from "../../survey/support/walked-survey.js";

export const SEEDS = Array.from({ length: 20 }, (_, k) => 1 + k);

/** A pass toward increasing chainage, and one the other way. */
export const there = { way: 1 } as const;
export const back = { way: -1 } as const;

/** What opening gives, with the tables of placing. */
export async function opened(folder: string, options: Partial<OpenSurveyOptions> = {}) {
  const survey = await openSurvey(folder, options);
  return { ...survey, tables: placeReadings(survey).tables };
}

export const open = (sketch: WalkSketch, options: Partial<OpenSurveyOptions> = {}) =>
  inFolder(walkedSurvey(sketch), (folder) => opened(folder, options));

export const openFolder = (sketch: SketchedFolder) =>
  inFolder(sketch, (folder) => openSurvey(folder));

export const textsOf = (cautions: readonly { readonly text: string }[]) =>
  cautions.map(({ text }) => text);

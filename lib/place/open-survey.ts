import { absences } from "../chain/readiness.js";
import type { Basis, Caution } from "../step/step-account.js";
import { type Fault, quoted, StepError } from "../step/step-error.js";
import { StepResult } from "../step/step-result.js";
import { unknownOptions } from "../step/unknown-options.js";
import { accountFor } from "../survey/account/reading-status.js";
import { asStepFault } from "../survey/check/faults.js";
import { type LoadedSurvey, loadSurvey } from "../survey/read/load-survey.js";
import type { Survey } from "../survey/survey.js";
import { bridgedText, placementBasis, placementCautions } from "./account.js";
import { passTable } from "./coverage/pass-table.js";
import { OPEN_SURVEY_DEFAULTS, type OpenSurveyOptions } from "./open-survey-options.js";
import { checkPlaceOptions, type PlaceUsed } from "./options.js";
import { surveyMap } from "./survey-map.js";
import { placementTables } from "./tables.js";

const STEP = "openSurvey";

/**
 * Opens a survey folder: reads the Data Package and every file in it, checks them against their
 * schemas and against each other, and gives every reading its chainage.
 *
 * Rule: chainage is the distance on the ground along the centreline to the projection of a position
 * on it; among several projections the one that continues the walk is taken. Longitudes and
 * latitudes (WGS 84) are projected in the survey's `crs`, else in the UTM zone of the centreline.
 *
 * Input: the path of a folder with a `datapackage.json`. Options: `OpenSurveyOptions`.
 * Output: the survey; campaigns sorted by first reading, readings in file order. Each reading
 * carries the standard deviation of its chainage (`positionSd_m`). Gaps in the positions are bridged by
 * time up to the stated length and flagged (`positionBridged`); readings in longer ones have NaN
 * chainage and are set aside; so is, in its channel, each value that is blank.
 * Limits: positions more than 500 m from the centreline are taken for faults.
 *
 * Throws `StepError` with every fault of every file (code, file, row, field, rule, value, hint).
 * Source: Data Package v1, Table Schema v1, RFC 7946; chainage by plane geometry.
 *
 * @example (await openSurvey("data-demo/sedgeholm")).value.embankment; // "Sedgeholm Bank"
 */
export async function openSurvey(
  folder: string,
  options: OpenSurveyOptions = {},
): Promise<StepResult<Survey>> {
  const { progress, ...given } = options;
  const used = { ...OPEN_SURVEY_DEFAULTS, ...given };
  checkOptions(folder, { given, used });
  const loaded = await loadSurvey(folder, { ...used, progress });
  const { survey, faults } = loaded;
  if (faults.length > 0 || survey === null) throw new StepError(STEP, faults.map(asStepFault));
  checkShiftedFiles(survey, used);
  return new StepResult({
    step: STEP,
    summary: summaryOf(survey, loaded),
    value: survey,
    used,
    basis: basisOf(survey, loaded, used),
    cautions: cautionsOf(survey, loaded, used),
    accounting: accountFor(survey.campaigns),
    figures: [surveyMap(survey)],
    tables: [passTable(survey), ...placementTables(loaded.placements)],
  });
}

interface OptionsGiven {
  readonly given: OpenSurveyOptions;
  readonly used: Omit<Required<OpenSurveyOptions>, "progress">;
}

function checkOptions(folder: unknown, { given, used }: OptionsGiven): void {
  const faults: Fault[] = [...unknownOptions(given, OPEN_SURVEY_DEFAULTS)];
  if (typeof folder !== "string" || folder === "") {
    const expected = "the path of a survey folder";
    faults.push({ code: "folder", path: "folder", expected, received: quoted(folder) });
  }
  const { farFromCentreline_m } = used;
  if (!(farFromCentreline_m > 0)) {
    const path = "options.farFromCentreline_m";
    const received = quoted(farFromCentreline_m);
    faults.push({ code: "option-range", path, expected: "above 0", received });
  }
  faults.push(...checkPlaceOptions(used));
  if (faults.length > 0) throw new StepError(STEP, faults);
}

/** A given shift must be of a file that the survey has. */
function checkShiftedFiles({ campaigns }: Survey, { passShift_m }: PlaceUsed): void {
  if (typeof passShift_m !== "object") return;
  const files = campaigns.flatMap(({ passes }) => passes.map(({ file }) => file));
  const faults = Object.keys(passShift_m)
    .filter((file) => !files.includes(file))
    .map((file) => ({
      code: "option-range",
      path: "options.passShift_m",
      expected: `metres by file, of ${files.join(", ")}`,
      received: quoted(file),
    }));
  if (faults.length > 0) throw new StepError(STEP, faults);
}

function summaryOf(survey: Survey, { placements }: LoadedSurvey): string {
  const { embankment, waterway, length_m, campaigns } = survey;
  const readings = campaigns
    .flatMap(({ passes }) => passes)
    .reduce((sum, { count }) => sum + count, 0);
  const labels = campaigns.map(({ label }) => label).join(", ");
  const river = waterway === "" ? "" : ` on the ${waterway}`;
  const places = [
    [survey.resistivityLines.length, "resistivity line"],
    [survey.boreholes.length, "borehole"],
    [survey.fieldNotes.length, "field note"],
    [survey.incidents.length, "incident"],
  ] as const;
  const extra = places.filter(([n]) => n > 0).map(([n, noun]) => counted(n, noun));
  const beside = extra.length === 0 ? "" : ` Beside them: ${extra.join(", ")}.`;
  const walked = `${counted(readings, "reading")} in ${counted(campaigns.length, "campaign")}`;
  return `${embankment}${river}, ${Math.round(length_m).toLocaleString("en")} m: ${walked} (${labels}).${beside}${bridgedText(placements)}`;
}

function basisOf(
  { centreline }: Survey,
  { gridScale }: LoadedSurvey,
  used: PlaceUsed,
): readonly Basis[] {
  const scale = gridScale.toFixed(5);
  return [
    {
      statement: "The folder is a data package with a schema for each table.",
      source: "Data Package v1 and Table Schema v1 (specs.frictionlessdata.io); RFC 7946",
    },
    {
      statement:
        `Positions are projected to EPSG:${centreline.epsg} (scale ${scale} at the centreline); ` +
        "chainages are distances on the ground.",
      source: "Snyder (1987), Map Projections: A Working Manual, USGS Professional Paper 1395",
    },
    {
      statement:
        "A reading takes the projection on the centreline that continues its walk, so that bends " +
        "and hairpins do not make it jump.",
      source: "common practice; shortest path after Viterbi (1967)",
    },
    ...placementBasis(used),
  ];
}

function cautionsOf(
  survey: Survey,
  { cautions, placements }: LoadedSurvey,
  used: PlaceUsed,
): readonly Caution[] {
  const { setAside } = accountFor(survey.campaigns);
  const aside = setAside.map(
    ({ cause, readings }) => `${counted(readings, "reading")} set aside: ${cause}.`,
  );
  const placed = placements.flatMap((placement) => placementCautions(placement, used));
  const read = cautions.map((text) => `${text}.`);
  const texts = [...read, ...placed, ...aside, ...absences(survey)];
  return texts.map((text) => ({ step: STEP, text }));
}

function counted(n: number, noun: string): string {
  return `${n.toLocaleString("en")} ${noun}${n === 1 ? "" : "s"}`;
}

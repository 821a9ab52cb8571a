import type { StepReport } from "../step/define-step.js";
import { countText } from "../step/show/html.js";
import type { Basis } from "../step/step-account.js";
import { absences } from "../survey/absences.js";
import { accountFor } from "../survey/account/reading-status.js";
import { campaignsOfAllLines } from "../survey/all-lines.js";
import type { LoadedSurvey } from "../survey/read/load-survey.js";
import type { Survey } from "../survey/survey.js";
import { bridgedText, placementBasis } from "./account.js";
import { placementCautions } from "./cautions.js";
import { passTable } from "./coverage/pass-table.js";
import { lineCautions } from "./lines/account.js";
import type { OpenSurveyOptions } from "./open-options.js";
import type { PlacedSurvey } from "./place-survey.js";
import { surveyMap } from "./survey-map.js";

/** A folder as it was read and placed. */
export interface OpenedSurvey extends PlacedSurvey, Pick<LoadedSurvey, "cautions" | "gridScale"> {}

/** The account of `openSurvey`. */
export function openReport(opened: OpenedSurvey, used: OpenSurveyOptions): StepReport<Survey> {
  const { survey } = opened;
  const accounting = accountFor(campaignsOfAllLines(survey));
  return {
    value: survey,
    summary: summaryOf(opened),
    basis: [...basisOf(opened), ...placementBasis(used)],
    cautions: [
      ...opened.cautions.map((text) => `${text}.`),
      ...lineCautions(opened.lines),
      ...opened.placements.flatMap((placement) => placementCautions(placement, used)),
      ...accounting.setAside.map(
        ({ cause, readings }) => `${countText(readings, "reading")} set aside: ${cause}.`,
      ),
      ...absences(survey),
    ],
    accounting,
    figures: [surveyMap(survey)],
    tables: [passTable(survey)],
  };
}

function summaryOf({ survey, placements }: OpenedSurvey): string {
  const { embankment, waterway, length_m } = survey;
  const campaigns = campaignsOfAllLines(survey);
  const passes = campaigns.flatMap((campaign) => campaign.passes);
  const readings = passes.reduce((sum, { count }) => sum + count, 0);
  const labels = [...new Set(campaigns.map(({ label }) => label))];
  const river = waterway === "" ? "" : ` on the ${waterway}`;
  const places = [
    [survey.resistivityLines.length, "resistivity line"],
    [survey.boreholes.length, "borehole"],
    [survey.fieldNotes.length, "field note"],
    [survey.incidents.length, "incident"],
  ] as const;
  const extra = places.filter(([n]) => n > 0).map(([n, noun]) => countText(n, noun));
  const beside = extra.length === 0 ? "" : ` Beside them: ${extra.join(", ")}.`;
  const walked = `${countText(readings, "reading")} in ${countText(labels.length, "campaign")}`;
  const bank = `${embankment}${river}, ${Math.round(length_m).toLocaleString("en")} m`;
  return `${bank}: ${walked} (${labels.join(", ")}).${beside}${bridgedText(placements)}`;
}

function basisOf({ survey, gridScale }: OpenedSurvey): readonly Basis[] {
  return [
    {
      statement: "The folder is a data package with a schema for each table.",
      source: "Data Package v1 and Table Schema v1 (specs.frictionlessdata.io); RFC 7946",
    },
    {
      statement:
        `Positions are projected to EPSG:${survey.centreline.epsg} (scale ` +
        `${gridScale.toFixed(5)} at the centreline); chainages are distances on the ground.`,
      source: "Snyder (1987), Map Projections: A Working Manual, USGS Professional Paper 1395",
    },
    {
      statement:
        "A reading takes the projection on the centreline that continues its walk, so that bends " +
        "and hairpins do not make it jump.",
      source: "common practice; shortest path after Viterbi (1967)",
    },
  ];
}

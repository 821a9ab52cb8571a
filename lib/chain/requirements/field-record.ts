import { listText } from "../../step/list-text.js";
import { countText } from "../../step/show/html.js";
import { surveyOf, type Work } from "../work.js";
import { type Answer, inPart, met, none, type Requirement } from "./requirement.js";

/** What the record says of the field. */
export const fieldRecord: readonly Requirement[] = [
  {
    id: "R1",
    asks: "Purpose, target (which defect, how deep, how small), setting and limits before results",
    where: ["openSurvey", "planProfiling"],
    answer: setting,
  },
  {
    id: "R2",
    asks: "Configuration of the instrument for each file",
    where: ["openSurvey"],
    answer: ({ survey }) => {
      const passes = survey.value.campaigns.flatMap((campaign) => campaign.passes);
      const files = countText(passes.length, "file");
      return met(`Channels, coils and height of ${files} of readings.`);
    },
  },
  {
    id: "R3",
    asks: "Raw files untouched, and a table from file to line",
    where: ["openSurvey"],
    answer: ({ survey }) => {
      const files = countText(survey.value.inputs.length, "file");
      return met(`${files} with their sha-256 under provenance; a table of passes.`);
    },
  },
  {
    id: "R4",
    asks: "Metal and structures with position and extent, on the map and not just deleted",
    where: ["maskInterference"],
    answer: metal,
  },
  {
    id: "R5",
    asks: "Weather, moisture, water levels on both sides, temperatures",
    where: ["soilTemperature", "responseToHead"],
    answer: conditions,
  },
  {
    id: "R6",
    asks: "Source and accuracy of positions, antenna offset, reference system",
    where: ["placeReadings", "openSurvey"],
    answer: positions,
  },
  {
    id: "R7",
    asks: "Deviations from the plan, with reasons",
    where: ["openSurvey"],
    answer: ({ survey }) => {
      const remarks = survey.value.fieldNotes.filter(({ kind }) => kind === "remark").length;
      if (remarks === 0) return none("No remark in the field notes speaks of any.");
      return inPart(
        `${countText(remarks, "remark")} in the field notes; no plan to hold them against.`,
      );
    },
  },
];

function setting({ survey }: Work): Answer {
  const { embankment, waterway } = survey.value;
  const bank = [embankment, waterway].filter((name) => name !== "").join(" on the ");
  return inPart(
    `Setting (${bank}) and what the survey cannot answer stand before the results; purpose and ` +
      "target have no place in the survey folder and are not recorded.",
  );
}

function metal({ survey, masked }: Work): Answer {
  const notes = survey.value.fieldNotes.filter(
    ({ kind }) => kind === "metal" || kind === "structure",
  );
  const seen = masked.reduce((sum, { value }) => sum + value.interference.length, 0);
  const found = `${countText(seen, "stretch", "stretches")} set aside over all campaigns`;
  if (notes.length === 0)
    return inPart(`No object was noted in the field; ${found} by the readings.`);
  return met(
    `${countText(notes.length, "object")} noted; ${found}; all on the map and in the layers.`,
  );
}

function conditions({ survey }: Work): Answer {
  const { soilTemperature, waterLevels } = survey.value;
  const points = [...new Set(waterLevels.map(({ point }) => point))];
  const parts = [
    soilTemperature.length > 0 ? countText(soilTemperature.length, "soil temperature") : "",
    points.length > 0 ? `water levels at ${countText(points.length, "point")}` : "",
  ].filter((part) => part !== "");
  const lacking = [
    soilTemperature.length === 0 ? "soil temperatures" : "",
    points.length === 0 ? "water levels" : "",
    "weather",
    "moisture",
  ].filter((part) => part !== "");
  const lacks = `not recorded: ${listText(lacking)}`;
  return parts.length === 0 ? none(`Nothing; ${lacks}.`) : inPart(`${parts.join(", ")}; ${lacks}.`);
}

function positions(work: Work): Answer {
  const { used } = surveyOf(work);
  const { epsg } = work.survey.value.centreline;
  const error = typeof used.gpsError_m === "number" ? `${used.gpsError_m} m` : "as found";
  const antenna =
    typeof used.antennaAhead_m === "number" ? `${used.antennaAhead_m} m ahead` : "none";
  return inPart(
    `EPSG:${epsg}; error of a position ${error}, antenna ${antenna}, both as declared; which receiver ` +
      "gave them is not recorded.",
  );
}

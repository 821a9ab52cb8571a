import {
  type PlanLine,
  type PlanMap,
  type PlanPoint,
  type PlanStretch,
  planMapSpec,
} from "../figures/plan/plan-map.js";
import { firstOf, lastOf } from "../numerics/arrays.js";
import type { Figure } from "../step/figure.js";
import { countText } from "../step/show/html.js";
import { campaignsOfAllLines } from "../survey/all-lines.js";
import { positionAt } from "../survey/bank/position.js";
import type { Pass, ResistivityLine, Survey } from "../survey/survey.js";

/**
 * The plan of the survey: centreline with chainages, passes, notes, boreholes, incidents, lines.
 */
export function surveyMap(survey: Survey): Figure {
  const { embankment, length_m, centreline } = survey;
  const campaigns = campaignsOfAllLines(survey);
  const passes = campaigns.flatMap((campaign) => campaign.passes);
  const readings = passes.reduce((sum, { count }) => sum + count, 0);
  const covered = Math.round(coverage_m(passes)).toLocaleString("en");
  const title =
    `${readings.toLocaleString("en")} readings in ${countText(passes.length, "pass", "passes")} ` +
    `cover ${covered} of ${Math.round(length_m).toLocaleString("en")} m of ${embankment}`;
  const map: PlanMap = {
    title,
    epsg: centreline.epsg,
    lines: [
      { name: "centreline", easting_m: centreline.easting_m, northing_m: centreline.northing_m },
      ...survey.resistivityLines.map((line) => electrodeLine(survey, line)),
    ],
    points: [...notePoints(survey), ...boreholePoints(survey), ...incidentPoints(survey)],
    ticks: ticks(survey),
    stretches: campaigns
      .flatMap(({ label, passes: walks }) => walks.flatMap((pass) => passStretches(label, pass)))
      // What is bridged in one pass must not be hidden under another.
      .sort((one, other) => Number(one.group === BRIDGED) - Number(other.group === BRIDGED)),
    legend: "Readings",
    colours: { [WALKED]: "#9ec3dd", [BRIDGED]: "#c77700" },
  };
  const hasBridges = passes.some(({ positionBridged }) => positionBridged?.includes(1));
  const bridges = hasBridges
    ? " Where the positions are bridged by time, the line has the other colour."
    : "";
  const caption =
    "Plan, grid north up, the same scale east and north; coordinates in m from the origin stated " +
    `on the axes, EPSG:${centreline.epsg}. Labels along the crest are chainages in m. The walked ` +
    `lines stop where there was no position.${bridges}`;
  return { id: "survey-map", title, caption, spec: planMapSpec(map) };
}

const WALKED = "walked";
const BRIDGED = "position bridged";

/** The walk with its gaps, and over it the stretches that were bridged. */
function passStretches(label: string, pass: Pass): readonly PlanStretch[] {
  const { resource, positionBridged } = pass;
  const only = (bridged: 0 | 1) => {
    const shows = (i: number) => (positionBridged?.[i] ?? 0) === bridged;
    const near = (i: number) => shows(i) || (bridged === 1 && (shows(i - 1) || shows(i + 1)));
    return {
      easting_m: pass.easting_m.map((x, i) => (near(i) ? x : Number.NaN)),
      northing_m: pass.northing_m.map((y, i) => (near(i) ? y : Number.NaN)),
    };
  };
  const walked = { ...only(0), text: `${label}: ${resource}`, group: WALKED };
  if (!positionBridged?.includes(1)) return [walked];
  return [walked, { ...only(1), text: `${label}: ${resource}, position bridged`, group: BRIDGED }];
}

function electrodeLine({ centreline }: Survey, line: ResistivityLine): PlanLine {
  const at = line.electrodes.map(({ x_m }) =>
    line.runs === "along"
      ? positionAt(centreline, line.chainage_m + x_m, line.offset_m)
      : positionAt(centreline, line.chainage_m, line.offset_m + x_m),
  );
  return {
    name: `resistivity line ${line.line}`,
    easting_m: at.map(({ easting_m }) => easting_m),
    northing_m: at.map(({ northing_m }) => northing_m),
  };
}

function notePoints({ fieldNotes, centreline }: Survey): readonly PlanPoint[] {
  return fieldNotes
    .filter(({ kind }) => kind === "metal" || kind === "structure")
    .filter(({ from_m, to_m }) => Number.isFinite(from_m + to_m))
    .map(({ from_m, to_m, offset_m, object, kind }) => ({
      ...positionAt(centreline, (from_m + to_m) / 2, offset_m ?? 0),
      name: object,
      kind: kind === "metal" ? "noted metal" : "noted structure",
    }));
}

function boreholePoints({ boreholes, centreline }: Survey): readonly PlanPoint[] {
  return boreholes.map(({ borehole, chainage_m, offset_m }) => ({
    ...positionAt(centreline, chainage_m, offset_m),
    name: borehole,
    kind: "borehole",
  }));
}

function incidentPoints({ incidents, centreline }: Survey): readonly PlanPoint[] {
  return incidents.map(({ chainage_m, kind }) => ({
    ...positionAt(centreline, chainage_m),
    name: kind,
    kind: "incident",
  }));
}

/** A dozen round chainages at the most, and not fewer than about five. */
function ticks({ centreline }: Survey): NonNullable<PlanMap["ticks"]> {
  const [first_m, last_m] = [firstOf(centreline.chainage_m), lastOf(centreline.chainage_m)];
  const size_m = 10 ** Math.floor(Math.log10((last_m - first_m) / 5));
  const isWide = (k: number) => (last_m - first_m) / (k * size_m) <= 12;
  const step_m = ([1, 2, 5].find(isWide) ?? 10) * size_m;
  const places: number[] = [];
  for (let k = Math.ceil(first_m / step_m); k * step_m <= last_m; k++) places.push(k * step_m);
  return places.map((chainage_m) => ({
    ...positionAt(centreline, chainage_m),
    text: chainage_m.toLocaleString("en"),
  }));
}

/** Metres of chainage with a reading, counted in stretches of 10 m. */
function coverage_m(passes: readonly Pass[]): number {
  const cells = new Set<number>();
  for (const { chainage_m } of passes) {
    for (const chainage of chainage_m) {
      if (!Number.isNaN(chainage)) cells.add(Math.floor(chainage / 10));
    }
  }
  return cells.size * 10;
}

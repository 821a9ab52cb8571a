import { firstOf, lastOf } from "../../numerics/arrays.js";
import type { FaultLog } from "../check/faults.js";
import { checkBankShape, checkShapeTable } from "../check/ground/bank-shape.js";
import { checkLevels } from "../check/ground/levels.js";
import { checkIncidents } from "../check/ground/notes.js";
import { noteElectrodes, noteSpreads } from "../check/ground/spreads.js";
import { checkYears } from "../check/plausible-times.js";
import { checkSoilUnits } from "../check/plausible-values.js";
import type { InputFile, ResistivityLine, Survey, SurveyEdition } from "../survey.js";
import { assembleCampaigns, labelOf } from "./campaigns.js";
import type { Frame } from "./frame/locate.js";
import { readLines } from "./lines/read-lines.js";
import type { Descriptor, ResourceDescriptor, Role } from "./package/descriptor.js";
import type { SurveyFile } from "./package/folder.js";
import { PACKAGE_FILE } from "./package/package-schema.js";
import { readBoreholes } from "./read-boreholes.js";
import {
  checkCrossSection,
  checkShape,
  crestProfileFrom,
  crossSectionFrom,
  crossSectionsFrom,
} from "./read-cross-section.js";
import { readIncidents, readSoilTemperature, readWaterLevels } from "./read-ground.js";
import { readNotes } from "./read-notes.js";
import type { CsvTable } from "./table/csv-table.js";

/** What a survey folder holds. */
export interface FolderContents {
  readonly descriptor: Descriptor;
  readonly name: string;
  readonly packageFile: SurveyFile;
  readonly files: ReadonlyMap<ResourceDescriptor, SurveyFile>;
}

/** A folder's contents, its tables read. */
interface SurveyParts extends FolderContents {
  readonly tables: readonly CsvTable[];
  /** Null where there is no usable centreline. */
  readonly frame: Frame | null;
}

/** The survey that the tables make, every table checked; null without a usable centreline. */
export function assembleSurvey(parts: SurveyParts, log: FaultLog): Survey | null {
  const { frame } = parts;
  for (const table of parts.tables) checkYears(table, log);
  const of = (role: Role) => tablesOf(parts, role);
  const complete = (role: Role, field: string) => isComplete(parts, role, field);
  const labels = campaignLabels(parts);
  const fieldNotes = of("field-notes").flatMap((table) =>
    frame ? readNotes(table, { frame, campaigns: labels }, log) : [],
  );
  const temperature = of("soil-temperature");
  for (const table of temperature) checkSoilUnits(table, log);
  const walked = { readings: of("readings"), baseChecks: of("base-checks"), temperature };
  const campaigns = assembleCampaigns({ ...walked, notes: fieldNotes, frame }, log);
  const resistivityLines = readLines(
    { electrodes: of("resistivity-electrodes"), readings: of("resistivity-readings"), complete },
    log,
  );
  if (frame === null) return null;
  const { crest, crossSections, ...bank } = bankOf(parts, frame, log);
  const about = { ...(crest && { crest }), ...(crossSections && { crossSections }) };
  for (const table of of("water-levels")) checkLevels(table, bank.crossSectionAt, log);
  for (const table of of("incidents")) checkIncidents(table, log);
  checkLines(parts, { lines: resistivityLines, frame }, log);
  const drilled = {
    boreholes: of("boreholes"),
    strata: of("strata"),
    laboratory: of("laboratory"),
  };
  return {
    ...bank,
    campaigns: campaigns.map((one) => ({ ...one, ...about })),
    fieldNotes,
    soilTemperature: temperature.flatMap(readSoilTemperature),
    waterLevels: of("water-levels").flatMap((table) => readWaterLevels(table, frame, log)),
    resistivityLines,
    boreholes: readBoreholes(
      { ...drilled, complete, crossSectionAt: bank.crossSectionAt },
      frame,
      log,
    ),
    incidents: of("incidents").flatMap((table) => readIncidents(table, frame, log)),
    inputs: inputsOf(parts),
  };
}

/** What resistivity lines read, and where they lie. */
function checkLines(
  parts: SurveyParts,
  { lines, frame }: { readonly lines: readonly ResistivityLine[]; readonly frame: Frame },
  log: FaultLog,
): void {
  const fileOf = (role: Role) => tablesOf(parts, role)[0]?.file ?? role;
  const { chainage_m } = frame.centreline;
  const [first_m, last_m] = [firstOf(chainage_m), lastOf(chainage_m)];
  for (const line of lines) {
    noteElectrodes(line, { file: fileOf("resistivity-electrodes"), log });
    noteSpreads(line, { file: fileOf("resistivity-readings"), log });
    const { chainage_m: at_m } = line;
    if (at_m >= first_m - frame.farFromCentreline_m && at_m <= last_m + frame.farFromCentreline_m) {
      continue;
    }
    const place = { file: PACKAGE_FILE, field: `lines, ${line.line}, chainage_m` };
    const rule = `a chainage of the centreline, ${first_m.toFixed(1)} to ${last_m.toFixed(1)} m`;
    log.add({ code: "chainage-range", ...place, rule, value: String(at_m) });
  }
}

/** Names, place and shape of the bank. */
function bankOf({ descriptor, name, tables }: SurveyParts, frame: Frame, log: FaultLog) {
  const { survey = {} } = descriptor;
  const { centreline } = frame;
  const shapes = tables.filter(({ resource }) => resource.role === "cross-section");
  for (const table of shapes) {
    checkCrossSection(table, frame, log);
    checkShapeTable(table, log);
  }
  checkShape(survey, log);
  const crossSectionAt = crossSectionFrom(survey, shapes);
  checkBankShape(survey, crossSectionAt(firstOf(centreline.chainage_m)).crestElevation_m, log);
  return {
    name,
    title: descriptor.title ?? name,
    edition: editionOf(descriptor),
    embankment: survey.embankment ?? name,
    waterway: survey.waterway ?? "",
    waterside: survey.waterside ?? null,
    designWaterLevel_m: survey.designWaterLevel_m ?? null,
    length_m: lastOf(centreline.chainage_m) - firstOf(centreline.chainage_m),
    centreline,
    crossSectionAt,
    crest: crestProfileFrom(survey, shapes),
    crossSections: crossSectionsFrom(survey, shapes),
  };
}

function editionOf({ version = "", created = "", contributors = [] }: Descriptor): SurveyEdition {
  const named = contributors.map(({ title, role = "", organization = "" }) => ({
    title,
    role,
    organization,
  }));
  return { version, created, contributors: named };
}

function tablesOf({ tables }: SurveyParts, role: Role): readonly CsvTable[] {
  return tables.filter(({ resource }) => resource.role === role);
}

/** The resources as they are described, those that cannot be read included. */
function described({ descriptor }: SurveyParts, role: Role) {
  const all = [...descriptor.resources, ...(descriptor.unsound ?? [])];
  return all.filter((resource) => resource.role === role);
}

/** True where every file of a role could be read, with a field. */
function isComplete(parts: SurveyParts, role: Role, field: string): boolean {
  const withField = tablesOf(parts, role).filter((table) => table.has(field));
  return described(parts, role).length === withField.length;
}

/** The campaigns that notes may name: those declared, and those of readings that declare none. */
function campaignLabels(parts: SurveyParts): ReadonlySet<string> {
  const declared = described(parts, "readings").flatMap(({ campaign }) => campaign ?? []);
  return new Set([...declared, ...tablesOf(parts, "readings").map(labelOf)]);
}

function inputsOf({ packageFile, files, tables }: SurveyParts): readonly InputFile[] {
  const rows = new Map(tables.map(({ file, count }) => [file, count]));
  return [packageFile, ...files.values()].map(({ path, sha256, bytes }) => ({
    path,
    sha256,
    bytes: bytes.length,
    rows: rows.get(path) ?? null,
  }));
}

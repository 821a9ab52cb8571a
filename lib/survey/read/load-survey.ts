import { basename, resolve } from "node:path";
import {
  checkCrossSection,
  checkShape,
  crestProfileFrom,
  crossSectionFrom,
} from "../bank/cross-section.js";
import type { Frame } from "../bank/locate.js";
import { scaleAt } from "../bank/projection.js";
import { FaultLog, type SurveyFault } from "../check/faults.js";
import { checkSoilUnits } from "../check/plausible-values.js";
import type { InputFile, Survey } from "../survey.js";
import { assembleCampaigns, labelOf } from "./campaigns.js";
import type { Descriptor, ResourceDescriptor, Role, SurveyProperties } from "./descriptor.js";
import { readSurveyFile, type SurveyFile, textOf } from "./folder.js";
import { readBoreholes } from "./read-boreholes.js";
import { readCentreline } from "./read-centreline.js";
import { PACKAGE_FILE, readDescriptor } from "./read-descriptor.js";
import { readIncidents, readSoilTemperature, readWaterLevels } from "./read-ground.js";
import { readLines } from "./read-lines.js";
import { readNotes } from "./read-notes.js";
import { readTable } from "./read-table.js";
import { checkResources } from "./resources.js";
import type { Table } from "./table.js";

/** A folder as far as it could be read. */
export interface LoadedSurvey {
  readonly faults: readonly SurveyFault[];
  readonly cautions: readonly string[];
  readonly tables: readonly Table[];
  /**
   * Null where there is no usable centreline; incomplete where there are faults. Its readings have yet
   * to be placed along the bank.
   */
  readonly survey: Survey | null;
  /** Grid distance over distance on the ground at the centreline; NaN without one. */
  readonly gridScale: number;
}

export interface LoadOptions {
  readonly farFromCentreline_m: number;
  readonly progress?: ReadProgress | undefined;
}

/** Told while the tables of a folder are read: the file, and the share of it read, 0 to 1. */
export type ReadProgress = (file: string, share: number) => void;

/** Reads everything in the folder that can be read, and collects what is wrong with the rest. */
export async function loadSurvey(folder: string, how: LoadOptions): Promise<LoadedSurvey> {
  const log = new FaultLog();
  const packageFile = await readSurveyFile(folder, PACKAGE_FILE, log);
  const json = packageFile && textOf(packageFile, "utf-8", log);
  const descriptor = json === null ? null : readDescriptor(json, log);
  if (packageFile === null || descriptor === null) return nothing(log);
  const files = new Map<ResourceDescriptor, SurveyFile>();
  for (const resource of descriptor.resources) {
    const file = await readSurveyFile(folder, resource.path, log);
    if (file !== null) files.set(resource, file);
  }
  checkResources(descriptor, files, log);
  const name = descriptor.name ?? basename(resolve(folder));
  return build({ descriptor, name, packageFile, files, how }, log);
}

function nothing(log: FaultLog): LoadedSurvey {
  const { faults, cautions } = log;
  return {
    faults,
    cautions,
    tables: [],
    survey: null,
    gridScale: Number.NaN,
  };
}

interface Contents {
  readonly descriptor: Descriptor;
  readonly name: string;
  readonly packageFile: SurveyFile;
  readonly files: ReadonlyMap<ResourceDescriptor, SurveyFile>;
  readonly how: LoadOptions;
}

async function build(contents: Contents, log: FaultLog): Promise<LoadedSurvey> {
  const { descriptor } = contents;
  const properties = descriptor.survey ?? {};
  const found = findCentreline(contents, properties, log);
  const tables = await readTables(contents, log);
  const frame = found && { ...found, farFromCentreline_m: contents.how.farFromCentreline_m };
  const survey = assemble({ contents, properties, tables, frame }, log);
  const gridScale = found ? scaleAt(found.projection, found.middle).east : Number.NaN;
  const { faults, cautions } = log;
  return { faults, cautions, tables, survey, gridScale };
}

function findCentreline(contents: Contents, survey: SurveyProperties, log: FaultLog) {
  const resource = contents.descriptor.resources.find(({ role }) => role === "centreline");
  const file = resource && contents.files.get(resource);
  const text = resource && file ? textOf(file, resource.encoding ?? "utf-8", log) : null;
  return file && text !== null ? readCentreline(text, { file: file.path, survey }, log) : null;
}

async function readTables(contents: Contents, log: FaultLog): Promise<readonly Table[]> {
  const { descriptor, files, how } = contents;
  const tables: Table[] = [];
  for (const [resource, file] of files) {
    if (resource.role === "centreline") continue;
    const whole = resource.role === "base-checks" ? withChannels(resource, descriptor) : resource;
    const progress = (share: number) => how.progress?.(file.path, share);
    const table = await readTable(file, whole, { log, progress });
    if (table !== null) tables.push(table);
  }
  return tables;
}

/** Base checks repeat the channels of their campaign's readings. */
function withChannels(resource: ResourceDescriptor, { resources }: Descriptor): ResourceDescriptor {
  const readings = resources.filter(({ role }) => role === "readings");
  const own = readings.filter(({ campaign }) => campaign === resource.campaign);
  const channels = (own.length > 0 ? own : readings).flatMap(
    ({ instrument }) => instrument?.channels ?? [],
  );
  return { ...resource, instrument: { height_m: 0, channels } };
}

interface Parts {
  readonly contents: Contents;
  readonly properties: SurveyProperties;
  readonly tables: readonly Table[];
  readonly frame: Frame | null;
}

function assemble({ contents, properties, tables, frame }: Parts, log: FaultLog): Survey | null {
  const { descriptor, name } = contents;
  const of = (role: Role) => tables.filter(({ resource }) => resource.role === role);
  const complete = (role: Role, field: string) =>
    [...descriptor.resources, ...(descriptor.unsound ?? [])].filter((one) => one.role === role)
      .length === of(role).filter((table) => table.has(field)).length;
  const walks = { readings: of("readings"), baseChecks: of("base-checks") };
  const labels = campaignLabels(descriptor, of("readings"));
  const fieldNotes =
    frame &&
    of("field-notes").flatMap((table) => readNotes(table, { frame, campaigns: labels }, log));
  const temperature = of("soil-temperature");
  for (const table of temperature) checkSoilUnits(table, log);
  const campaigns = assembleCampaigns(
    { ...walks, temperature, notes: fieldNotes ?? [], frame },
    log,
  );
  const resistivityLines = readLines(
    { electrodes: of("resistivity-electrodes"), readings: of("resistivity-readings"), complete },
    log,
  );
  if (frame === null || fieldNotes === null) return null;
  for (const table of of("cross-section")) checkCrossSection(table, frame, log);
  checkShape(properties, log);
  const holes = {
    boreholes: of("boreholes"),
    strata: of("strata"),
    laboratory: of("laboratory"),
    complete,
  };
  const { chainage_m } = frame.centreline;
  const crest = crestProfileFrom(properties, of("cross-section"));
  return {
    name,
    title: descriptor.title ?? name,
    embankment: properties.embankment ?? name,
    waterway: properties.waterway ?? "",
    waterside: properties.waterside ?? null,
    designWaterLevel_m: properties.designWaterLevel_m ?? null,
    length_m: chainage_m[chainage_m.length - 1]! - chainage_m[0]!,
    centreline: frame.centreline,
    crossSectionAt: crossSectionFrom(properties, of("cross-section")),
    campaigns: crest === null ? campaigns : campaigns.map((one) => ({ ...one, crest })),
    fieldNotes,
    soilTemperature: temperature.flatMap(readSoilTemperature),
    waterLevels: of("water-levels").flatMap((table) => readWaterLevels(table, frame, log)),
    resistivityLines,
    boreholes: readBoreholes(holes, frame, log),
    incidents: of("incidents").flatMap((table) => readIncidents(table, frame, log)),
    inputs: inputsOf(contents, tables),
  };
}

/** The campaigns that notes may name: those declared, and those of readings that declare none. */
function campaignLabels(descriptor: Descriptor, readings: readonly Table[]): ReadonlySet<string> {
  const declared = [...descriptor.resources, ...(descriptor.unsound ?? [])]
    .filter(({ role }) => role === "readings")
    .flatMap(({ campaign }) => campaign ?? []);
  return new Set([...declared, ...readings.map(labelOf)]);
}

function inputsOf({ packageFile, files }: Contents, tables: readonly Table[]): InputFile[] {
  const rows = new Map(tables.map(({ file, count }) => [file, count]));
  return [packageFile, ...files.values()].map(({ path, sha256, bytes }) => ({
    path,
    sha256,
    bytes: bytes.length,
    rows: rows.get(path) ?? null,
  }));
}

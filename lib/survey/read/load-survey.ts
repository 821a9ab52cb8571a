import { basename, resolve } from "node:path";
import { scaleAt } from "../bank/projection.js";
import { FaultLog, type SurveyFault } from "../check/faults.js";
import type { Survey } from "../survey.js";
import { assembleSurvey, type FolderContents } from "./assemble-survey.js";
import { type ReadCentreline, readCentreline } from "./frame/read-centreline.js";
import { checkResources } from "./package/check-resources.js";
import type { Descriptor, ResourceDescriptor } from "./package/descriptor.js";
import { readSurveyFile, type SurveyFile, textOf } from "./package/folder.js";
import { PACKAGE_FILE } from "./package/package-schema.js";
import { readDescriptor } from "./package/read-descriptor.js";
import type { CsvTable } from "./table/csv-table.js";
import { readTable } from "./table/read-table.js";

/** A folder as far as it could be read. */
export interface LoadedSurvey {
  readonly faults: readonly SurveyFault[];
  readonly cautions: readonly string[];
  readonly tables: readonly CsvTable[];
  /**
   * Null where there is no usable centreline; incomplete where there are faults. Its readings have
   * yet to be placed along the bank.
   */
  readonly survey: Survey | null;
  /** Grid distance over distance on the ground at the centreline; NaN without one. */
  readonly gridScale: number;
}

export interface LoadOptions {
  readonly farFromCentreline_m: number;
  readonly progress?: ReadProgress | undefined;
}

/** Called while the tables of a folder are read: the file, and the share of it read, 0 to 1. */
export type ReadProgress = (file: string, share: number) => void;

/** Reads everything in the folder that can be read, and collects what is wrong with the rest. */
export async function loadSurvey(folder: string, how: LoadOptions): Promise<LoadedSurvey> {
  const log = new FaultLog();
  const contents = await readContents(folder, log);
  const found = contents && findCentreline(contents, log);
  const tables = contents ? await readTables(contents, how.progress, log) : [];
  const { farFromCentreline_m } = how;
  const frame = found && { ...found, farFromCentreline_m };
  const survey = contents && assembleSurvey({ ...contents, tables, frame }, log);
  const gridScale = found ? scaleAt(found.projection, found.middle).east : Number.NaN;
  const { faults, cautions } = log;
  return { faults, cautions, tables, survey, gridScale };
}

/** Null where the package cannot be read. */
async function readContents(folder: string, log: FaultLog): Promise<FolderContents | null> {
  const packageFile = await readSurveyFile(folder, PACKAGE_FILE, log);
  const json = packageFile && textOf(packageFile, "utf-8", log);
  const descriptor = json === null ? null : readDescriptor(json, log);
  if (packageFile === null || descriptor === null) return null;
  const files = new Map<ResourceDescriptor, SurveyFile>();
  for (const resource of descriptor.resources) {
    const file = await readSurveyFile(folder, resource.path, log);
    if (file !== null) files.set(resource, file);
  }
  checkResources(descriptor, log);
  const name = descriptor.name ?? basename(resolve(folder));
  return { descriptor, name, packageFile, files };
}

function findCentreline(
  { descriptor, files }: FolderContents,
  log: FaultLog,
): ReadCentreline | null {
  const resource = descriptor.resources.find(({ role }) => role === "centreline");
  const file = resource && files.get(resource);
  const text = resource && file ? textOf(file, resource.encoding ?? "utf-8", log) : null;
  if (file === undefined || text === null) return null;
  return readCentreline(text, { file: file.path, survey: descriptor.survey ?? {} }, log);
}

async function readTables(
  { descriptor, files }: FolderContents,
  progress: ReadProgress | undefined,
  log: FaultLog,
): Promise<readonly CsvTable[]> {
  const tables: CsvTable[] = [];
  for (const [resource, file] of files) {
    if (resource.role === "centreline") continue;
    const whole = resource.role === "base-checks" ? withChannels(resource, descriptor) : resource;
    const table = await readTable(file, whole, {
      log,
      progress: (share) => progress?.(file.path, share),
    });
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

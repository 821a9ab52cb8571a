import { centrelineGeojson } from "../centreline/centreline-geojson.js";
import type { Settled } from "../enquiry.js";
import type { ImportPlan } from "../settle-import.js";
import { campaignLabels, type KnownCampaign } from "./campaign-labels.js";
import { type FirstPass, firstPass } from "./first-pass.js";
import { type FileRecord, fileRecord } from "./import-record.js";
import { type ImportedTable, tablesOf } from "./resource-files.js";

/** What imported files are added to. */
export interface ImportInto {
  readonly name: string;
  /** Of a survey that is there: its campaigns and the names of its resources. */
  readonly campaigns: readonly KnownCampaign[];
  readonly names: ReadonlySet<string>;
}

/** Raw files as a survey's own: files to write, resources to describe, and the account of all. */
export interface ImportedSurvey {
  readonly tables: readonly ImportedTable[];
  /** Null where the survey has one. */
  readonly centreline: string | null;
  readonly resources: readonly Readonly<Record<string, unknown>>[];
  readonly records: readonly FileRecord[];
  readonly campaigns: readonly string[];
}

/** Reads raw files by their plan, which must leave nothing open. */
export function importSurvey(plan: ImportPlan, into: ImportInto): ImportedSurvey {
  const passes = plan.tables.map(firstPass);
  const labels = campaignLabels(passes, into.campaigns);
  const tables: ImportedTable[] = [];
  const records: FileRecord[] = [];
  for (const pass of passes) {
    const isTaken = (name: string) =>
      into.names.has(name) || tables.some((one) => one.name === name);
    const own = pass.plan.role === "centreline" ? [] : tablesOf(pass, labels.get(pass), isTaken);
    tables.push(...own);
    records.push(fileRecord(pass, own));
  }
  const centreline = centrelineOf(plan, passes);
  const described = centreline === null ? [] : [CENTRELINE];
  if (plan.geojson !== null) records.unshift(geojsonRecord(plan.geojson));
  const resources = [...described, ...tables.map(({ resource }) => resource)];
  return {
    tables,
    centreline,
    resources,
    records,
    campaigns: [...new Set(labels.values())].sort(),
  };
}

const CENTRELINE = Object.freeze({
  name: "centreline",
  path: "centreline.geojson",
  role: "centreline",
  format: "geojson",
  mediatype: "application/geo+json",
  encoding: "utf-8",
});

function centrelineOf(
  { geojson, isFromWalk, survey }: ImportPlan,
  passes: readonly FirstPass[],
): string | null {
  if (geojson !== null) return new TextDecoder().decode(geojson.bytes);
  const vertices = passes.find(({ plan }) => plan.role === "centreline");
  if (vertices !== undefined) return centrelineGeojson(vertices, { survey, from: "vertices" });
  const walk = passes.find(({ plan }) => plan.role === "readings");
  if (!isFromWalk || walk === undefined) return null;
  return centrelineGeojson(walk, { survey, from: "walk" });
}

function geojsonRecord({ name, sha256, bytes }: NonNullable<ImportPlan["geojson"]>): FileRecord {
  const written = ["centreline.geojson"];
  return { raw: `raw/${name}`, sha256, bytes: bytes.length, role: "centreline", written };
}

/** `datapackage.json` of a survey of its own. */
export function newDescriptor(
  name: string,
  { survey }: ImportPlan,
  { resources }: ImportedSurvey,
): Readonly<Record<string, unknown>> {
  const title = [survey.embankment ?? name, ...(survey.waterway ? [survey.waterway] : [])];
  const own = name
    .normalize("NFD")
    .toLowerCase()
    .replace(/[\u0300-\u036f]/g, "")
    .replace(/[^a-z0-9._-]+/g, "-");
  return {
    profile: "data-package",
    name: own.replace(/^-+|-+$/g, "") || "survey",
    title: title.join(" on "),
    survey,
    resources,
  };
}

/** What a settled matter reads as in a file of answers. */
export function settledLines(settled: readonly Settled[]): string {
  return settled.map(({ key, value }) => `${key} = ${value}\n`).join("");
}

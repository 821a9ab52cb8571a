import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { checkDecisions } from "../chain/decisions/check-decisions.js";
import type { Findings } from "../chain/findings.js";
import { standardLinks } from "../chain/standard-links.js";
import { readingsOf, surveyOf, type Work } from "../chain/work.js";
import { defineStep, runLongStep } from "../step/define-step.js";
import { textOption } from "../step/options/kinds.js";
import { type Given, resultValue, type StepResult } from "../step/step-result.js";
import { timeSpan } from "../survey/time-span.js";
import { accountingCsv } from "./accounting-csv.js";
import { geoJson } from "./geojson.js";
import { geoPackage } from "./geopackage/geopackage.js";
import { standardLayers } from "./layers/standard-layers.js";
import { provenanceOf } from "./provenance.js";

export interface HandOverOptions {
  /** The folder to write into; made where it is missing. */
  readonly folder: string;
}

/** One file written, with its size. */
export interface HandedOver {
  readonly files: readonly { readonly name: string; readonly bytes: number }[];
}

interface HandingOver {
  readonly findings: Findings;
  readonly work: Work;
}

const handOverStep = defineStep({
  name: "handOver",
  options: {
    folder: textOption({
      default: ".",
      meaning: "The folder to write into; made where it is missing.",
      role: "callback",
    }),
  },
  faults: ({ work }: HandingOver) => checkDecisions(standardLinks, work).faults,
  run: written,
  report: (value) => ({
    value,
    summary: `Written: ${value.files.map(({ name }) => name).join(", ")}.`,
    tables: [filesTable(value)],
  }),
});

/**
 * Writes findings.json, accounting.csv, provenance.json (inputs, decisions, seeds), and the map
 * layers (readings, stretches set aside, blocks, changes, seepage zones, section traces, proposed
 * boreholes): survey.gpkg in the survey's projected coordinates, one GeoJSON file each on WGS 84.
 * The same work gives the same bytes: numbers as JSON writes them, two-space indent, no time of
 * writing and no machine; the GeoPackage's "last change" is the survey's last reading.
 *
 * @param findings - what `gatherFindings` returned.
 * @param work - the results behind it: readings for the account, inputs and decisions.
 * @param options - the folder.
 * @returns the files with their sizes in bytes.
 * @throws StepError where a decision is false on the record: its step used another value, or has no
 *   such option; nothing is written then. The file system's own error where the folder cannot be
 *   written.
 */
export async function handOver(
  findings: Given<Findings>,
  work: Work,
  options: HandOverOptions,
): Promise<StepResult<HandedOver>> {
  return runLongStep(handOverStep, { findings: resultValue(findings), work }, options);
}

async function written(
  { findings, work }: HandingOver,
  { folder }: HandOverOptions,
): Promise<HandedOver> {
  const contents: readonly (readonly [name: string, content: string | Uint8Array])[] = [
    ["findings.json", `${JSON.stringify(findings, null, 2)}\n`],
    ["accounting.csv", accountingCsv(readingsOf(work))],
    ["provenance.json", `${JSON.stringify(provenanceOf(work), null, 2)}\n`],
    ...(await mapFiles(findings, work)),
  ];
  await mkdir(folder, { recursive: true });
  for (const [name, content] of contents) await writeFile(join(folder, name), content);
  return {
    files: contents.map(([name, content]) => ({ name, bytes: Buffer.byteLength(content) })),
  };
}

/** The map layers: all in one GeoPackage, and one GeoJSON file each. */
async function mapFiles(findings: Findings, work: Work) {
  const { centreline } = surveyOf(work).value;
  const layers = standardLayers(findings, work);
  const { last_s } = timeSpan(readingsOf(work).flatMap(({ passes }) => passes));
  const lastChange_s = Number.isNaN(last_s) ? 0 : last_s;
  return [
    ["survey.gpkg", await geoPackage(layers, { centreline, lastChange_s })],
    ...layers.map((layer) => [`${layer.name}.geojson`, geoJson(layer, centreline)] as const),
  ] as const;
}

function filesTable({ files }: HandedOver) {
  return {
    id: "handed-over",
    caption: "Files beside this appendix",
    columns: [
      { field: "name", label: "File" },
      { field: "bytes", label: "Size (bytes)", digits: 0 },
    ],
    rows: files.map((file) => ({ ...file })),
  };
}

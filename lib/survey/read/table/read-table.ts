import type { FaultLog } from "../../check/faults.js";
import type { ResourceDescriptor } from "../package/descriptor.js";
import { NotDecodable, piecesOf, type SurveyFile } from "../package/folder.js";
import { csvBatches } from "./csv.js";
import type { CsvTable } from "./csv-table.js";
import { likelyDelimiter, otherFormat, SEPARATOR_NAMES } from "./recognise.js";
import { TableBuilder } from "./table-builder.js";
import { knownNames } from "./table-header.js";

export interface ReadTableOptions {
  readonly log: FaultLog;
  /** Called with the share of the file read, 0 to 1; the event loop gets a turn each time. */
  readonly progress?: (share: number) => void;
}

/** Reads a CSV resource by its dialect, its schema and its role. Null where there is no header. */
export async function readTable(
  file: SurveyFile,
  resource: ResourceDescriptor,
  { log, progress }: ReadTableOptions,
): Promise<CsvTable | null> {
  const other = otherFormat(file.bytes);
  if (other !== null) {
    const hint = "export the table as CSV";
    log.add({ code: "not-csv", file: file.path, rule: "a CSV file", value: other, hint });
    return null;
  }
  const source = { file, share: 0 };
  const builder = new TableBuilder(resource, log);
  try {
    const pieces = counted(source, resource.encoding ?? "utf-8");
    const delimiter = delimiterOf(file, resource, log);
    const dialect = resource.dialect ?? {};
    for (const batch of csvBatches({ file: file.path, pieces, dialect, delimiter }, log)) {
      builder.add(batch);
      if (source.share < 1) {
        progress?.(source.share);
        await new Promise((resolve) => setImmediate(resolve));
      }
    }
  } catch (error) {
    if (!(error instanceof NotDecodable)) throw error;
    log.add({ ...error.fault, file: file.path });
    return null;
  }
  progress?.(1);
  return builder.done();
}

function* counted(source: { readonly file: SurveyFile; share: number }, encoding: string) {
  for (const { text, share } of piecesOf(source.file.bytes, encoding)) {
    source.share = share;
    yield text;
  }
}

/** The dialect's separator, else the one that the header shows, with a caution. */
function delimiterOf(file: SurveyFile, resource: ResourceDescriptor, log: FaultLog): string {
  const declared = resource.dialect?.delimiter;
  const likely = likelyDelimiter(firstLineOf(file, resource), knownNames(resource));
  if (declared !== undefined || likely === ",") return declared ?? ",";
  const named = SEPARATOR_NAMES[likely];
  log.caution(`${file.path}: cells are separated by ${named}, which no dialect says; read so`);
  return likely;
}

function firstLineOf(file: SurveyFile, resource: ResourceDescriptor): string {
  const start = piecesOf(file.bytes.subarray(0, 65_536), resource.encoding ?? "utf-8", "start");
  const lines = [...start]
    .map(({ text }) => text)
    .join("")
    .split(/[\r\n]+/);
  return lines.find((line) => line.trim() !== "") ?? "";
}

import type { Settled } from "../enquiry.js";
import type { RowAccount } from "../row-tally.js";
import type { FirstPass } from "./first-pass.js";
import type { ImportedTable } from "./resource-files.js";

/** How one raw file became what. */
export interface FileRecord {
  /** Within the folder. */
  readonly raw: string;
  readonly sha256: string;
  readonly bytes: number;
  readonly role: string;
  readonly written: readonly string[];
  readonly encoding?: string;
  readonly separator?: string;
  readonly headerRow?: number | null;
  readonly unitsRow?: number | null;
  readonly columns?: readonly { field: string; from: readonly string[]; how: string }[];
  readonly leftOut?: readonly string[];
  readonly rows?: RowAccount;
}

/** `import.json` of a survey folder: what was read how, so that it can be repeated. */
export interface ImportRecord {
  readonly files: readonly FileRecord[];
  readonly settled: readonly Settled[];
}

export function fileRecord(
  { plan, account }: FirstPass,
  tables: readonly ImportedTable[],
): FileRecord {
  const { file, encoding, layout } = plan.source;
  return {
    raw: `raw/${file.name}`,
    sha256: file.sha256,
    bytes: file.bytes.length,
    role: plan.role,
    written: tables.length === 0 ? ["centreline.geojson"] : tables.map(({ path }) => path),
    encoding,
    separator: layout.separator,
    headerRow: layout.headerRow,
    unitsRow: layout.unitsRow,
    columns: plan.fields.map(({ name, from, how }) => ({ field: name, from, how })),
    leftOut: plan.leftOut,
    rows: account,
  };
}

import { csvHeader, csvRow, RAW_ROW, readRows } from "../read-rows.js";
import { RowTally } from "../row-tally.js";
import type { TablePlan } from "../settle-table.js";
import type { FirstPass } from "./first-pass.js";

/** A table of the survey that comes from a raw file. */
export interface ImportedTable {
  readonly name: string;
  readonly path: string;
  readonly raw: string;
  readonly resource: Readonly<Record<string, unknown>>;
  /** Its text, piece by piece. */
  readonly pieces: () => Iterable<string>;
}

/** The tables that a raw file becomes: one, or one a walk. */
export function tablesOf(
  pass: FirstPass,
  campaign: string | undefined,
  isTaken: (name: string) => boolean,
): readonly ImportedTable[] {
  const { plan, starts } = pass;
  const raw = plan.source.file.name;
  const bounds = [0, ...starts, Number.POSITIVE_INFINITY];
  const made: ImportedTable[] = [];
  for (let part = 0; part + 1 < bounds.length; part++) {
    const isNamed = (name: string) => isTaken(name) || made.some((one) => one.name === name);
    const stem = [
      plan.role,
      campaign,
      shortSlug(raw, plan.role, campaign),
      starts.length > 0 ? part + 1 : undefined,
    ];
    const name = freeName(stem.filter((word) => word !== undefined).join("-"), isNamed);
    const rows = { from: bounds[part]!, below: bounds[part + 1]! };
    const resource = resourceOf(plan, name, campaign);
    made.push({ name, path: `${name}.csv`, raw, resource, pieces: () => textOf(plan, rows) });
  }
  return made;
}

/** The raw file's name without what the resource's name says already. */
function shortSlug(raw: string, role: string, campaign = ""): string | undefined {
  const said = new Set([campaign, slug(campaign), role]);
  const whole = slug(raw);
  const rest = [...said].reduce(
    (name, word) => (word === "" ? name : name.replace(word, "")),
    whole,
  );
  return rest.replace(/-+/g, "-").replace(/^-|-$/g, "") || undefined;
}

/** Data Package v1: names are of lower-case letters, digits, dots, dashes and underscores. */
function slug(file: string): string {
  const plain = file
    .replace(/\.[^.]*$/, "")
    .normalize("NFD")
    .toLowerCase()
    .replace(/[\u0300-\u036f]/g, "")
    .replace(/[^a-z0-9_]+/g, "-");
  return plain.replace(/^-+|-+$/g, "") || "file";
}

function freeName(name: string, isTaken: (name: string) => boolean): string {
  let free = name;
  for (let k = 2; isTaken(free); k++) free = `${name}-${k}`;
  return free;
}

const PIECE_LETTERS = 1 << 16;

function* textOf(plan: TablePlan, { from, below }: { from: number; below: number }) {
  let piece = csvHeader(plan.fields);
  for (const read of readRows(plan.source, plan.fields, new RowTally())) {
    if (read.row < from || read.row >= below) continue;
    piece += csvRow(read);
    if (piece.length < PIECE_LETTERS) continue;
    yield piece;
    piece = "";
  }
  yield piece;
}

function resourceOf(plan: TablePlan, name: string, campaign: string | undefined) {
  const fields = plan.fields.map(({ name: field, type, title }) => ({
    name: field,
    type,
    ...(type === "datetime" ? { format: "any" } : {}),
    title,
  }));
  const rawRow = { name: RAW_ROW, type: "integer", title: "row of the raw file" };
  return {
    name,
    path: `${name}.csv`,
    role: plan.role,
    title: `From raw/${plan.source.file.name}`,
    profile: "tabular-data-resource",
    format: "csv",
    mediatype: "text/csv",
    encoding: "utf-8",
    ...(campaign === undefined ? {} : { campaign }),
    ...(plan.role === "readings" ? { instrument: plan.instrument } : {}),
    ...(plan.lines.length > 0 ? { lines: plan.lines } : {}),
    schema: { fields: [...fields, rawRow], missingValues: [""] },
  };
}

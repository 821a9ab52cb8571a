import { numberText, valueText } from "../../step/show/html.js";
import type { Block, Cell, TableBlock } from "./block.js";

/** The content of provenance.json, as far as it is known. */
export interface RunRecord {
  readonly inputs?: readonly {
    readonly path: string;
    readonly sha256: string;
    readonly bytes: number;
  }[];
  readonly seeds?: Readonly<Record<string, number>>;
  readonly notebook?: { readonly file: string; readonly sha256: string };
  readonly cells?: readonly { readonly id: string; readonly sha256: string }[];
  readonly versions?: object;
}

/** What the appendix was made from, for whoever holds it against the files. */
export function provenanceBlocks(record: RunRecord): readonly Block[] {
  const { inputs = [], cells = [], seeds = {}, versions = {}, notebook } = record;
  const code = [
    ...(notebook === undefined ? [] : [[`notebook ${notebook.file}`, notebook.sha256]]),
    ...cells.map(({ id, sha256 }) => [`cell ${id}`, sha256]),
  ];
  const made = [
    ...named("", versions),
    ...Object.entries(seeds).map(([step, seed]) => [`Seed of ${step}`, String(seed)]),
  ];
  return [
    paragraph(
      "The same inputs, code and versions give the same bytes: a copy of a file is the file that was " +
        "used where its sha-256 is the one that stands here.",
    ),
    ...table(
      "Files of the survey",
      ["File", "Bytes", "sha-256"],
      [...inputs.map(({ path, bytes, sha256 }) => [path, bytes, sha256])],
    ),
    ...table("The notebook and its cells", ["Part", "sha-256"], code),
    ...table("What it ran on", ["What", "Version or value"], made),
  ];
}

/** Names and values, those within others after the name of what holds them. */
function named(before: string, value: object): readonly (readonly [string, string])[] {
  return Object.entries(value).flatMap(([key, inner]) => {
    const name = [before, key].filter((part) => part !== "").join(": ");
    if (typeof inner !== "object" || inner === null) return [[name, valueText(inner)] as const];
    return named(name, inner as object);
  });
}

function paragraph(text: string): Block {
  return { kind: "paragraph", role: "plain", content: [text] };
}

function table(
  caption: string,
  head: readonly string[],
  rows: readonly (readonly (string | number)[])[],
): readonly TableBlock[] {
  if (rows.length === 0) return [];
  const empty = { kind: "table", role: "data", id: "", number: null, folded: false } as const;
  return [
    {
      ...empty,
      caption: [caption],
      head: head.map((text, i) => cell(text, typeof rows[0]?.[i] === "number", true)),
      rows: rows.map((row) => row.map((value) => cell(value, typeof value === "number", false))),
    },
  ];
}

function cell(value: string | number, isNumeric: boolean, isHeading: boolean): Cell {
  const text = typeof value === "number" ? numberText(value, 0) : value;
  return { content: [text], isHeading, isNumeric, span: 1 };
}

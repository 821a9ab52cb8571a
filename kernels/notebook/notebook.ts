/** A notebook in memory: nbformat 4.5, with texts whole instead of line by line. */
import { readOptionLines } from "../session/cell/option-lines.js";
import type { CellOutput } from "../session/show/outputs.js";

export type Metadata = Readonly<Record<string, unknown>>;

export interface MarkdownCell {
  readonly cell_type: "markdown" | "raw";
  readonly id: string;
  readonly metadata: Metadata;
  readonly source: string;
  readonly attachments?: Readonly<Record<string, Metadata>>;
}

export interface CodeCell {
  readonly cell_type: "code";
  readonly id: string;
  readonly metadata: Metadata;
  readonly source: string;
  /** Null where the cell has not run. */
  readonly execution_count: number | null;
  readonly outputs: readonly CellOutput[];
}

export type Cell = MarkdownCell | CodeCell;

export interface Notebook {
  readonly nbformat: 4;
  readonly nbformat_minor: 5;
  readonly metadata: Metadata;
  readonly cells: readonly Cell[];
}

/** True where the cell's metadata carry the tag. */
export function hasTag(cell: Cell, tag: string): boolean {
  const { tags } = cell.metadata;
  return Array.isArray(tags) && tags.includes(tag);
}

/** True for a code cell with something to run below its option lines. */
export function runs(cell: Cell): cell is CodeCell {
  return cell.cell_type === "code" && readOptionLines(cell.source).code.trim() !== "";
}

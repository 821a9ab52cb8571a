import { SourceMap, type SourceMapPayload } from "node:module";
import { relative } from "node:path";
import { fileURLToPath } from "node:url";
import { codeFrame } from "../cell/code-frame.js";
import { asWritten } from "../cell/marked-names.js";
import type { ErrorOutput } from "../show/outputs.js";
import { type ErrorParts, errorParts } from "./error-parts.js";

/** A cell that ran, by the name under which V8 knows its script. */
export interface RanCell {
  readonly count: number;
  readonly source: string;
  /** Source map of the script, as JSON. */
  readonly map: string;
  /** True for a TypeScript file that a cell imports; its name is its path. */
  readonly isFile?: boolean;
}

export type RanCells = ReadonlyMap<string, RanCell>;

interface Frame {
  readonly text: string;
  /** Set for a place in a cell; line and column count from 0. */
  readonly cell: { readonly name: string; readonly line: number; readonly column: number } | null;
}

export function sourceName(count: number): string {
  return `cell-${count}`;
}

/**
 * A thrown value as a Jupyter error: its name, its message, and a trace in the cells' own lines.
 * Frames of Node and of the kernel are left out.
 */
export function errorOutput(error: unknown, cells: RanCells, folder: string): ErrorOutput {
  const parts = errorParts(error);
  const message = asWritten(parts.message);
  const head = message === "" ? parts.name : `${parts.name}: ${message}`;
  const frames = framesOf(error, parts, { cells, folder });
  const lines = [...frameAtFault(frames, cells), ...frames.map((frame) => `    at ${frame.text}`)];
  return {
    output_type: "error",
    ename: parts.name,
    evalue: message,
    traceback: [head, ...lines, ...furtherErrors(parts, { cells, folder, depth: 0 })],
  };
}

/** Errors told below the first one, one within the other. */
const deepest = 8;
/** Errors told of those that one is made of; of those within it an eighth. */
const most = 50;

interface Places {
  readonly cells: RanCells;
  readonly folder: string;
}

interface Below extends Places {
  readonly depth: number;
}

// What an error was caused by, and the errors that it is made of, each with its places.
function furtherErrors({ cause, errors }: ErrorParts, below: Below): string[] {
  if (below.depth >= deepest) return [];
  const told = (title: string, inner: unknown): string[] => {
    const parts = errorParts(inner);
    return [
      `${title}${parts.name}: ${asWritten(parts.message)}`,
      ...framesOf(inner, parts, below).map((frame) => `    at ${frame.text}`),
      ...furtherErrors(parts, { ...below, depth: below.depth + 1 }),
    ];
  };
  return [
    ...errors
      .slice(0, most >> (3 * below.depth))
      .flatMap((one, at) => told(`${at + 1} of ${errors.length}: `, one)),
    ...(cause === undefined ? [] : told("Caused by ", cause)),
  ];
}

/**
 * Makes the `stack` of errors from cells read in the cells' own lines, wherever a cell prints it.
 * Returns the function that undoes it.
 */
export function traceInCells(cells: RanCells, folder: string): () => void {
  const before = Error.prepareStackTrace;
  Error.prepareStackTrace = (error, sites) => {
    const head = headOf(error);
    const raw = [head, ...sites.map((site) => `    at ${site}`)].join("\n");
    rawStacks.set(error, raw);
    const frames = framesIn(raw, cells, folder);
    if (!frames.some((frame) => frame.cell !== null)) return raw;
    return [asWritten(head), ...frames.map((frame) => `    at ${frame.text}`)].join("\n");
  };
  return () => {
    if (before === undefined) Reflect.deleteProperty(Error, "prepareStackTrace");
    else Error.prepareStackTrace = before;
  };
}

// Of an error whose own words throw, only that it is one. `console.trace` hands in what is none.
function headOf(error: unknown): string {
  try {
    return error instanceof Error ? `${error}` : Error.prototype.toString.call(error);
  } catch {
    return "Error";
  }
}

const rawStacks = new WeakMap<object, string>();

function framesOf(error: unknown, { isError, stack }: ErrorParts, { cells, folder }: Places) {
  return isError ? framesIn(rawStacks.get(error as object) ?? stack, cells, folder) : [];
}

const place = /^\s+at (?:async )?(?:(.*?) \()?(.+?):(\d+):(\d+)\)?$/;

// Frames after the last one in a cell belong to whoever runs the cells.
function framesIn(stack: string, cells: RanCells, folder: string): Frame[] {
  const frames: Frame[] = [];
  for (const line of stack.split("\n")) {
    const found = place.exec(line);
    if (found === null) continue;
    const [, caller = "", file = "", row = "1", column = "1"] = found;
    if (isKernels(file)) continue;
    const cell = cells.get(file);
    const at = cell && placeInCell(cell, Number(row) - 1, Number(column) - 1);
    const where = cell?.isFile
      ? `${shortPath(file, folder)}:${(at?.line ?? Number(row) - 1) + 1}`
      : cell
        ? `cell ${cell.count}${at ? `, line ${at.line + 1}` : ""}`
        : `${shortPath(file, folder)}:${row}`;
    const text = caller === "" ? where : `${asWritten(caller)} (${where})`;
    frames.push({ text, cell: at ? { name: file, ...at } : null });
  }
  const last = frames.findLastIndex((frame) => frame.cell !== null);
  return last < 0 ? frames : frames.slice(0, last + 1);
}

const kernelsFolder = new URL("../../", import.meta.url).href;

function isKernels(file: string): boolean {
  if (file.startsWith("node:") || file === "<anonymous>") return true;
  return file.startsWith(kernelsFolder) || file.startsWith(fileURLToPath(kernelsFolder));
}

// The cell is the map's line 2 on: the type services put one line before it. A file has the map's
// own lines, of which the first has the head of a function before it.
function placeInCell(cell: RanCell, line: number, column: number) {
  const map = new SourceMap(JSON.parse(cell.map) as SourceMapPayload);
  const entry = map.findEntry(line, column);
  if (!("originalLine" in entry)) return null;
  if (cell.isFile) return { line: entry.originalLine, column: entry.originalColumn };
  if (!(entry.originalLine >= 1)) return null;
  return { line: entry.originalLine - 1, column: entry.originalColumn };
}

// No machine paths in a notebook: from the package's name on, or from the notebook's folder.
function shortPath(file: string, folder: string): string {
  const path = file.startsWith("file:") ? fileURLToPath(file) : file;
  const parts = path.split("node_modules/");
  if (parts.length > 1) return parts.at(-1) ?? path;
  const inside = relative(folder, path);
  return inside.startsWith("..") ? path.split("/").slice(-2).join("/") : inside;
}

function frameAtFault(frames: readonly Frame[], cells: RanCells): string[] {
  const first = frames.find((frame) => frame.cell !== null)?.cell;
  if (!first) return [];
  const source = cells.get(first.name)?.source ?? "";
  return [codeFrame(source, { line: first.line, column: first.column })];
}

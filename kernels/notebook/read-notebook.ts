import { readFile } from "node:fs/promises";
import { Ajv, type ErrorObject } from "ajv";
import { nbformatSchema } from "./nbformat-schema.js";
import type { Notebook } from "./notebook.js";
import { NotebookFault } from "./notebook-fault.js";

type Plain = Record<string, unknown>;

const isValid = new Ajv({ discriminator: true, allErrors: true, strict: false }).compile(
  nbformatSchema,
);

/** Reads a notebook file. Throws NotebookFault with every fault where it is not nbformat 4. */
export async function readNotebook(file: string): Promise<Notebook> {
  let text: string;
  try {
    text = await readFile(file, "utf8");
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    throw new NotebookFault([`${file}: cannot be read (${code ?? "unknown cause"})`]);
  }
  return parseNotebook(text, file);
}

/**
 * A notebook from its text. Formats 4.0 to 4.4, whose cells have no ids yet, are lifted to 4.5 with
 * ids that count the cells. Lists of lines become whole texts.
 */
export function parseNotebook(text: string, file: string): Notebook {
  let given: unknown;
  try {
    given = JSON.parse(text);
  } catch (error) {
    throw new NotebookFault([`${file}: is not JSON (${(error as Error).message})`]);
  }
  const lifted = withIds(given);
  if (!isValid(lifted)) throw new NotebookFault(faultsOf(isValid.errors ?? [], file));
  const notebook = lifted as { cells: Plain[]; metadata: Plain };
  const ids = notebook.cells.map((cell) => cell.id as string);
  const twice = ids.filter((id, at) => ids.indexOf(id) !== at);
  if (twice.length > 0) {
    throw new NotebookFault([`${file}: cell ids must be unique, "${twice[0]}" is there twice`]);
  }
  return {
    nbformat: 4,
    nbformat_minor: 5,
    metadata: notebook.metadata,
    cells: notebook.cells.map(wholeTexts),
  } as unknown as Notebook;
}

function withIds(given: unknown): unknown {
  if (typeof given !== "object" || given === null) return given;
  const { nbformat, nbformat_minor: minor, cells } = given as Plain;
  const old = nbformat === 4 && typeof minor === "number" && minor < 5 && Array.isArray(cells);
  if (!old) return given;
  const numbered = (cells as unknown[]).map((cell, at) =>
    typeof cell === "object" && cell !== null ? { id: `cell-${at + 1}`, ...cell } : cell,
  );
  return { ...given, nbformat_minor: 5, cells: numbered };
}

function faultsOf(errors: readonly ErrorObject[], file: string): string[] {
  const texts = errors
    .filter((error) => error.keyword !== "oneOf")
    .map((error) => `${file}: ${error.instancePath || "the notebook"} ${error.message ?? ""}`);
  return [...new Set(texts)].slice(0, 20);
}

function wholeTexts(cell: Plain): Plain {
  const source = joined(cell.source);
  if (cell.cell_type !== "code") return { ...cell, source };
  return { ...cell, source, outputs: (cell.outputs as Plain[]).map(wholeOutput) };
}

function wholeOutput(output: Plain): Plain {
  if (output.output_type === "stream") return { ...output, text: joined(output.text) };
  if (typeof output.data !== "object" || output.data === null) return output;
  const data = Object.entries(output.data).map(([mime, value]) => [
    mime,
    mime.endsWith("json") ? value : joined(value),
  ]);
  return { ...output, data: Object.fromEntries(data) as Plain };
}

function joined(text: unknown): unknown {
  return Array.isArray(text) ? text.join("") : text;
}

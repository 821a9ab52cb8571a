import type { CodeCell, MarkdownCell, Notebook } from "../../../kernels/notebook/notebook.js";

export function code(id: string, source: string, ...tags: readonly string[]): CodeCell {
  const metadata = tags.length > 0 ? { tags } : {};
  return { cell_type: "code", id, metadata, source, execution_count: null, outputs: [] };
}

export function text(id: string, source: string): MarkdownCell {
  return { cell_type: "markdown", id, metadata: {}, source };
}

export function notebook(...cells: readonly (CodeCell | MarkdownCell)[]): Notebook {
  return { nbformat: 4, nbformat_minor: 5, metadata: {}, cells };
}

/** Of an executed notebook in format 4.5, what a review looks at; texts in one piece. */
export interface ExecutedCell {
  readonly id: string;
  readonly source: string;
  readonly hasRun: boolean;
  /** True of a cell that gives parameters their values for one run. */
  readonly isInjected: boolean;
  readonly outputs: readonly ExecutedOutput[];
}

export interface ExecutedOutput {
  readonly kind: string;
  /** MIME type, or the part of a stream or an error → its content. */
  readonly parts: Readonly<Record<string, unknown>>;
}

type Plain = Readonly<Record<string, unknown>>;

/** The code cells of a notebook's text. Throws a SyntaxError where it is no JSON. */
export function executedCells(text: string): readonly ExecutedCell[] {
  const { cells = [] } = JSON.parse(text) as { cells?: readonly Plain[] };
  return cells
    .filter((cell) => cell.cell_type === "code")
    .map((cell) => ({
      id: String(cell.id),
      source: whole(cell.source) as string,
      hasRun: typeof cell.execution_count === "number",
      isInjected: tagsOf(cell).includes("injected-parameters"),
      outputs: ((cell.outputs ?? []) as readonly Plain[]).map(outputOf),
    }));
}

function tagsOf({ metadata }: Plain): readonly unknown[] {
  const { tags } = (metadata ?? {}) as Plain;
  return Array.isArray(tags) ? tags : [];
}

/** Results and displays are told apart by their place, not by their kind. */
function outputOf(output: Plain): ExecutedOutput {
  const kind = String(output.output_type);
  if (kind === "stream") return { kind, parts: { [String(output.name)]: whole(output.text) } };
  if (kind === "error") {
    const { ename, evalue, traceback } = output;
    return { kind, parts: { ename, evalue, traceback: whole(traceback) } };
  }
  const parts = Object.entries((output.data ?? {}) as Plain).map(
    ([mime, value]) => [mime, mime.endsWith("json") ? value : whole(value)] as const,
  );
  return { kind: "shown", parts: Object.fromEntries(parts) };
}

function whole(text: unknown): unknown {
  return Array.isArray(text) ? text.join("") : text;
}

import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
// The built package: cells run in a child process, which runs the built worker.
import { type CellResult, startCellRunner } from "../../../dist/kernels/notebook/cell-runner.js";
import type { CellOutput } from "../../../kernels/session/show/outputs.js";

export const repository = resolve(import.meta.dirname, "../../..");

/** Cells run one after the other in one fresh process. */
export interface Cells {
  /** Runs the cells; gives the last one's result. */
  run(...sources: readonly string[]): Promise<CellResult>;
  /** Runs the cells; gives the last one's shown value as plain text. */
  shown(...sources: readonly string[]): Promise<unknown>;
  stop(): void;
}

export function startCells(folder = repository): Cells {
  const runner = startCellRunner(folder);
  const run = async (...sources: readonly string[]) => {
    let last: CellResult | null = null;
    for (const source of sources) last = await runner.run(source);
    if (last === null) throw new Error("no cells");
    return last;
  };
  const shown = async (...sources: readonly string[]) => plain((await run(...sources)).outputs);
  return { run, shown, stop: () => runner.stop() };
}

/** The plain text of the result, or what went wrong instead. */
export function plain(outputs: readonly CellOutput[]): unknown {
  const error = outputs.find((output) => output.output_type === "error");
  if (error?.output_type === "error") return error.traceback.join("\n");
  const result = outputs.find((output) => output.output_type === "execute_result");
  return result?.output_type === "execute_result" ? result.data["text/plain"] : undefined;
}

export function errorOf({ outputs }: CellResult) {
  const error = outputs.find((output) => output.output_type === "error");
  if (error?.output_type !== "error") throw new Error("the cell did not fail");
  return error;
}

/** A folder outside the repository, removed afterwards. */
export async function withFolder<Value>(use: (folder: string) => Promise<Value>): Promise<Value> {
  const folder = await mkdtemp(join(tmpdir(), "wend-"));
  try {
    return await use(folder);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

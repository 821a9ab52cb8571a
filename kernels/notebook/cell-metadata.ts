import { readOptionLines } from "../session/cell/option-lines.js";
import type { CodeCell, Metadata } from "./notebook.js";

/** When a cell began and ended. */
export interface CellTimes {
  readonly began: Date;
  readonly ended: Date;
}

/**
 * Metadata of a cell that has run. Its option lines `label` and `caption` stand under `banquette`;
 * its times, where given, under `execution`, by the names that Jupyter's front ends use. Times and
 * options that an earlier run left are taken out.
 */
export function executedMetadata(cell: CodeCell, times: CellTimes | null): Metadata {
  const { execution: _, banquette, ...others } = cell.metadata;
  const own = { ...withoutOptions(banquette), ...optionsOf(cell.source) };
  return {
    ...others,
    ...(Object.keys(own).length > 0 ? { banquette: own } : {}),
    ...(times === null ? {} : { execution: executionTimes(times) }),
  };
}

function withoutOptions(banquette: unknown): Metadata {
  if (typeof banquette !== "object" || banquette === null) return {};
  const { label: _, caption: __, ...others } = banquette as Metadata;
  return others;
}

function optionsOf(source: string): Metadata {
  const { label, caption } = readOptionLines(source).options;
  return {
    ...(label === undefined ? {} : { label }),
    ...(caption === undefined ? {} : { caption }),
  };
}

function executionTimes({ began, ended }: CellTimes): Metadata {
  const [start, end] = [began.toISOString(), ended.toISOString()];
  return {
    "iopub.status.busy": start,
    "iopub.execute_input": start,
    "shell.execute_reply": end,
    "iopub.status.idle": end,
  };
}

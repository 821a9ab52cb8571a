import type { ModelInput } from "../line/difference-model.js";
import type { ChangeProfile } from "../ratio/change-profiles.js";
import { type Explanations, explanations } from "./explanations.js";
import { HEIGHT_ERRORS, type LineState } from "./line-state.js";
import { type StretchData, stretchData } from "./stretch-data.js";

export interface ExplainedStretch {
  readonly data: StretchData;
  readonly why: Explanations;
}

/** Stations first … last of a fitted line. */
export interface StretchAt extends Pick<LineState, "model" | "scan"> {
  readonly first: number;
  readonly last: number;
}

export interface ExplainOptions {
  readonly profiles: readonly ChangeProfile[];
  readonly mismatch_m: number;
}

/** The mean difference of a stretch, and what it may come from. */
export function explainedStretch(
  input: ModelInput,
  at: StretchAt,
  { profiles, mismatch_m }: ExplainOptions,
): ExplainedStretch {
  const data = dataOf(input, at, mismatch_m);
  const { passes, channels } = input.pair;
  return { data, why: explanations(data, profiles, { passes, channels: channels.length }) };
}

function dataOf(
  input: ModelInput,
  { model, scan, first, last }: StretchAt,
  mismatch_m: number,
): StretchData {
  const length = last - first + 1;
  const edge = Math.min(Math.round(EDGE_M / input.pair.spacing_m), Math.floor(length / 4));
  const [from, to] = [first + edge, last - edge];
  const shifts = input.pair.shiftSd_m.subarray(from, to + 1);
  const shift = shifts.reduce((sum, sd) => sum + sd, 0) / shifts.length;
  return stretchData(input, model, {
    first: from,
    last: to,
    inflation: scan.inflationAt(length),
    mismatch_m: Math.hypot(mismatch_m, shift),
    ...HEIGHT_ERRORS,
  });
}

/** Stations this near to an end are left out of the effect: the end may lie inside of them, m. */
const EDGE_M = 5;

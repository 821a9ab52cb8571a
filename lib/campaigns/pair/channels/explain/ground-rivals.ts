import { differenceModel, type ModelInput } from "../line/difference-model.js";
import type { Offset } from "../line/offsets.js";
import { type ExplainOptions, explainedStretch } from "./explained-stretch.js";
import type { LineState } from "./line-state.js";

/** An offset that was taken off. */
export interface ExplainedOffset extends Offset {
  /** True where a change of the ground explains the same stretch nearly as well or better. */
  readonly orGround: boolean;
}

/** Log evidence within which one explanation is nearly as good as another. */
export const NEARLY = 3;

/** The offsets of a line, each weighed against a change of the ground in its place. */
export function withGroundRivals(
  input: ModelInput,
  { state, changed }: { readonly state: LineState; readonly changed: Uint8Array },
  options: ExplainOptions,
): readonly ExplainedOffset[] {
  const { offsets } = state.model;
  return offsets.map((one) => {
    const part = deviating(one, changed.length);
    const others = offsets.filter((other) => other !== one);
    const mask = changed.slice().fill(1, part.first, part.last + 1);
    const model = differenceModel(input, mask, others);
    const { why } = explainedStretch(input, { model, scan: state.scan, ...part }, options);
    const best = Math.max(why.height.evidence, why.zero.evidence);
    return { ...one, orGround: why.ground > best - NEARLY };
  });
}

/** The smaller part: an offset to an end of the line is one of the other part, the other way. */
function deviating({ first, last }: Offset, n: number) {
  if (last - first + 1 <= n / 2) return { first, last };
  if (first === 0) return { first: last + 1, last: n - 1 };
  return last === n - 1 ? { first: 0, last: first - 1 } : { first, last };
}

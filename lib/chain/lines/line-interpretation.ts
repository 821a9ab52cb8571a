import type { DepthSlices } from "../../depth/depth-slices.js";
import type { StepResult } from "../../step/step-result.js";
import type { WalkedLine } from "../../survey/survey.js";
import type { Work } from "../work.js";

/** What one line beside the main one comes to. */
export interface LineInterpretation extends WalkedLine {
  /** The steps' results, as the chain holds them for the main line. */
  readonly work: LineWork;
  /** The slices that its blocks rest on; null where it has none. */
  readonly slices: DepthSlices | null;
  /** Why the line could not be followed to the end; null where it was. */
  readonly refused: string | null;
  /** The same results in order, with the line's name in what they say: to be shown. */
  readonly results: readonly StepResult<unknown>[];
}

/** The results of the steps that a line goes through; a line that was refused has the first ones. */
export type LineWork = Pick<Work, "survey" | "decisions"> &
  Partial<Omit<Work, "survey" | "placed" | "decisions" | "seepage" | "robustness" | "otherLines">>;

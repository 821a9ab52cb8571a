import type { StepReport } from "../../step/define-step.js";
import { countText } from "../../step/show/html.js";
import { accountFor } from "../../survey/account/reading-status.js";
import { stretchesText } from "../robustness/effect-text.js";
import type { LineInterpretation } from "../work.js";
import { readingsOfLine } from "../work.js";
import type { OtherLines } from "./interpret-line.js";

/** The account of `interpretOtherLines`. */
export function otherLinesReport(
  lines: readonly LineInterpretation[],
  _: unknown,
  { survey }: OtherLines,
): StepReport<readonly LineInterpretation[]> {
  return {
    value: lines,
    summary: lines.length === 0 ? "One line was walked." : lines.map(lineText).join(" "),
    basis: [
      {
        statement:
          `Each line is placed, corrected, inverted, cut and compared as if it had been walked ` +
          `alone, under the decisions made for ${survey.walkedLine?.line ?? "the main line"}. ` +
          "Letters of classes are a line's own.",
        source: "common practice",
      },
    ],
    cautions: lines.flatMap(cautionsOf),
    accounting:
      lines.length === 0 ? null : accountFor(lines.flatMap(({ work }) => readingsOfLine(work))),
  };
}

function lineText({ line, work, refused }: LineInterpretation): string {
  if (refused !== null) return `${line} could not be followed to the end.`;
  const blocks = countText(work.blocks?.value.blocks.length ?? 0, "block");
  const to_m = work.slices?.[0]?.value.reliableTo_m ?? 0;
  const depth = to_m > 0 ? `reliable to ${to_m.toFixed(1)} m` : "reliable to no depth";
  const changed = (work.changes ?? []).flatMap(({ value }) => value.changes);
  const change = (work.changes ?? []).length === 0 ? "" : `; changed: ${stretchesText(changed)}`;
  return `${line}: ${blocks}, ${depth}${change}.`;
}

/** Cautions of the line's steps, each named for the line. */
function cautionsOf({ line, refused, results }: LineInterpretation): readonly string[] {
  const own = results.flatMap(({ cautions }) => cautions.map(({ text }) => text));
  return refused === null ? own : [`${line} could not be followed to the end: ${refused}.`, ...own];
}

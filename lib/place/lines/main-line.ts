import { quoted, StepError } from "../../step/step-error.js";
import type { FoundLine } from "./find-lines.js";

/** The lines with the one of that name first; null leaves them in their order. */
export function chosenFirst(
  lines: readonly FoundLine[],
  name: string | null,
): readonly FoundLine[] {
  if (name === null) return lines;
  const chosen = lines.find(({ line, names }) => line === name || names.includes(name));
  if (chosen !== undefined) return [chosen, ...lines.filter((line) => line !== chosen)];
  const known = lines.map(({ line }) => quoted(line)).join(", ");
  const expected =
    lines.length === 0 ? "null, the survey having one line" : `a line that was walked: ${known}`;
  const path = "options.line";
  throw new StepError("placeReadings", [
    { code: "option-value", path, expected, received: quoted(name) },
  ]);
}

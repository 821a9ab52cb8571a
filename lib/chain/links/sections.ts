import { countText } from "../../step/show/html.js";
import type { Survey } from "../../survey/survey.js";
import { type Link, nothingYet, type Readiness } from "../link.js";
import { surveyOf } from "../work.js";

/** Resistivity lines are read and checked, and not inverted yet. */
export const sectionsLink: Link = {
  step: { name: "invertSection", options: {} },
  gives: "sections",
  takes: ["survey"],
  isPick: true,
  run: nothingYet,
  readiness: { step: "sections", of: readiness },
  absent: (work) => absentText(surveyOf(work).value),
};

function absentText({ resistivityLines: lines }: Survey): string {
  if (lines.length === 0) return "No resistivity lines were measured: no section.";
  const readings = lines.reduce((sum, line) => sum + line.readings.length, 0);
  return (
    `${countText(lines.length, "resistivity line")} with ${countText(readings, "reading")} were ` +
    "read and checked, but they are not inverted in this version: no section is given."
  );
}

function readiness({ resistivityLines }: Survey): Readiness {
  const cannot = resistivityLines.length === 0 ? "compare with a second method" : "";
  const measured = resistivityLines.filter(({ readings }) => readings.length > 0);
  if (measured.length === 0) {
    return { ready: false, text: "no resistivity lines with readings", cannot };
  }
  const parts = measured.map(
    ({ line, readings }) => `${line} (${countText(readings.length, "reading")})`,
  );
  const text = `${parts.join(", ")}; read, but not worked out in this version`;
  return { ready: false, text, cannot };
}

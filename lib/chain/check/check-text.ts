import { zipped } from "../../numerics/arrays.js";
import { countText } from "../../step/show/html.js";
import { faultCount, faultLine } from "../../survey/check/faults.js";
import type { ResourceSummary, SurveyCheck } from "./check-survey.js";

/** The check as plain text for a terminal: faults one a line, cautions, files, steps. */
export function checkText(check: SurveyCheck): string {
  const total = faultCount(check.faults);
  const verdict = total === 0 ? "No faults." : `${countText(total, "fault")}:`;
  const parts = [
    [verdict, ...check.faults.map((fault) => `  ${faultLine(fault)}`)],
    section("Cautions", check.cautions),
    section("Files", aligned(check.summary.map(fileCells))),
    section(
      "Steps",
      aligned(check.steps.map(({ step, ready, text }) => [step, ready ? "yes" : "no", text])),
    ),
  ];
  return parts
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join("\n"))
    .join("\n\n");
}

function section(heading: string, lines: readonly string[]): readonly string[] {
  return lines.length === 0 ? [] : [`${heading}:`, ...lines.map((line) => `  ${line}`)];
}

function fileCells(summary: ResourceSummary): readonly string[] {
  const { file, role, campaign, rows, from, to } = summary;
  const { chainageFrom_m, chainageTo_m, spacing_m } = summary;
  const time = from === null ? "" : `${from} to ${to}`;
  const reach =
    chainageFrom_m === null ? "" : `${chainageFrom_m.toFixed(1)} to ${chainageTo_m?.toFixed(1)} m`;
  const spacing = spacing_m === null ? "" : `every ${spacing_m.toFixed(2)} m`;
  return [file, role, campaign ?? "", countText(rows, "row"), time, reach, spacing];
}

/** Pads cells to columns. */
function aligned(rows: readonly (readonly string[])[]): readonly string[] {
  const width = (c: number) => Math.max(...rows.map((cells) => cells[c]?.length ?? 0));
  const widths = (rows[0] ?? []).map((_, c) => width(c));
  return rows.map((cells) =>
    zipped(cells, widths)
      .map(([cell, wide]) => cell.padEnd(wide))
      .join("  ")
      .trimEnd(),
  );
}

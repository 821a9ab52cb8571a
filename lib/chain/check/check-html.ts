import { countText, escapeHtml, tableHtml } from "../../step/show/html.js";
import { reportPage, reportSection, verdictHtml } from "../../step/show/report-page.js";
import { faultsHtml } from "../../survey/check/check-faults-html.js";
import { faultCount } from "../../survey/check/faults.js";
import { coverageHtml } from "./check-coverage-html.js";
import type { SurveyCheck } from "./check-survey.js";

/**
 * The check of a survey folder as one self-contained HTML page: the verdict, every fault, the
 * cautions, what each step can and cannot do, what is there, and how the readings cover the bank,
 * with a figure. It works offline, prints, and holds no script.
 *
 * @param check what `checkSurvey` gave
 * @param options what may be said beside
 * @param options.name the survey's name for the heading; default "survey folder"
 * @example
 * const page = await checkHtml(await checkSurvey("data-demo/sedgeholm"));
 * page.startsWith("<!doctype html>"); // true
 */
export async function checkHtml(
  check: SurveyCheck,
  { name = "survey folder" }: { readonly name?: string } = {},
): Promise<string> {
  return reportPage(`Check of ${name}`, [
    verdict(check),
    reportSection("Faults", faultsHtml(check.faults)),
    cautionsHtml(check.cautions),
    stepsHtml(check),
    filesHtml(check),
    reportSection("Coverage along the bank", await coverageHtml(check)),
  ]);
}

function verdict({ faults, steps }: SurveyCheck): string {
  const ready = steps.filter((step) => step.ready).length;
  const then = faults.length === 0 ? "" : "Apart from that, ";
  const able =
    steps.length === 0
      ? "Without a usable centreline nothing can be placed along the bank."
      : `${then}${ready} of ${steps.length} steps have what they need.`;
  if (faults.length === 0) {
    return verdictHtml("No faults: the survey can be opened.", { isFault: false, more: able });
  }
  const files = new Set(faults.map(({ file }) => file)).size;
  const count = `${countText(faultCount(faults), "fault")} in ${countText(files, "file")}`;
  const refusal = `${count}: the survey cannot be opened until they are put right.`;
  return verdictHtml(refusal, { isFault: true, more: able });
}

function cautionsHtml(cautions: readonly string[]): string {
  if (cautions.length === 0) return "";
  const items = cautions.map((text) => `<p>${escapeHtml(sentence(text))}</p>`).join("\n");
  return reportSection("Cautions", `<div class="bq-caution" role="note">${items}</div>`);
}

function sentence(text: string): string {
  return text.endsWith(".") ? text : `${text}.`;
}

function stepsHtml({ steps }: SurveyCheck): string {
  if (steps.length === 0) return "";
  const rows = steps.map(({ step, ready, text, cannot }) => ({
    ...{ step, ready, text },
    cannot: cannot === "" ? null : cannot,
  }));
  const columns = [
    { field: "step", label: "Step" },
    { field: "ready", label: "Can run" },
    { field: "text", label: "Has to work with" },
    { field: "cannot", label: "Cannot, for want of data" },
  ];
  return reportSection(
    "What each step can do with it",
    tableHtml({ id: "steps", caption: "", columns, rows }),
  );
}

function filesHtml({ summary }: SurveyCheck): string {
  if (summary.length === 0) return "";
  const columns = [
    { field: "file", label: "File" },
    { field: "role", label: "Role" },
    { field: "campaign", label: "Campaign" },
    { field: "rows", label: "Rows", digits: 0 },
    { field: "from", label: "From (UTC)" },
    { field: "to", label: "To (UTC)" },
  ];
  const rows = summary.map(({ file, role, campaign, rows: count, from, to }) => ({
    ...{ file, role, campaign, rows: count },
    from: from?.replace("T", " ").replace("Z", "") ?? null,
    to: to?.replace("T", " ").replace("Z", "") ?? null,
  }));
  return reportSection("What is there", tableHtml({ id: "files", caption: "", columns, rows }));
}

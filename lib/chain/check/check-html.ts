import { accountCss } from "../../step/show/account-css.js";
import { countText, escapeHtml, tableHtml } from "../../step/show/html.js";
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
 * @param options.name the survey's name for the heading; default "survey folder"
 * @example
 * const page = await checkHtml(await checkSurvey("data-demo/sedgeholm"));
 * page.startsWith("<!doctype html>"); // true
 */
export async function checkHtml(
  check: SurveyCheck,
  { name = "survey folder" }: { readonly name?: string } = {},
): Promise<string> {
  const title = `Check of ${name}`;
  const body = [
    `<h1>${escapeHtml(title)}</h1>`,
    verdict(check),
    section("Faults", faultsHtml(check.faults)),
    cautionsHtml(check.cautions),
    stepsHtml(check),
    filesHtml(check),
    section("Coverage along the bank", await coverageHtml(check)),
  ];
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeHtml(title)}</title>
<style>
${accountCss}
${pageCss}
</style>
</head>
<body><main class="bq">
${body.filter((part) => part !== "").join("\n")}
</main></body>
</html>
`;
}

/** Nothing from elsewhere, and no script. */
const policy =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; " +
  "form-action 'none'";

const font = `15px/1.5 Arial,"Liberation Sans",Helvetica,sans-serif`;

const pageCss = `body{margin:0;background:#fff;color:#222426;font:${font}}
main.bq{max-width:1160px;margin:0 auto;padding:2rem 1.5rem 4rem}
h1{font-size:1.7rem;line-height:1.2;margin:0 0 .8rem}
h2{font-size:1.2rem;margin:2.2rem 0 .5rem;padding-top:.5rem;border-top:1px solid #c9cdd1}
.verdict{font-size:1.05rem;padding:.6rem .9rem;border-left:5px solid #2b6ca3;background:#eef3f8}
.verdict.faulty{border-color:#b5541c;background:#fbf0ea}
.bq table.bq-table{width:100%}
.bq table.bq-table td{overflow-wrap:break-word}
.bq table.bq-table .bq-number{padding-right:1.8em}
figure svg{width:100%;height:auto}
.scroll{overflow-x:auto}
@media print{h2{break-after:avoid}tr,figure{break-inside:avoid}}`;

function verdict({ faults, steps }: SurveyCheck): string {
  const ready = steps.filter((step) => step.ready).length;
  const then = faults.length === 0 ? "" : "Apart from that, ";
  const able =
    steps.length === 0
      ? "Without a usable centreline nothing can be placed along the bank."
      : `${then}${ready} of ${steps.length} steps have what they need.`;
  if (faults.length === 0) {
    return `<p class="verdict"><strong>No faults: the survey can be opened.</strong> ${able}</p>`;
  }
  const files = new Set(faults.map(({ file }) => file)).size;
  const count = `${countText(faultCount(faults), "fault")} in ${countText(files, "file")}`;
  const refusal = `${count}: the survey cannot be opened until they are put right.`;
  return `<p class="verdict faulty"><strong>${refusal}</strong> ${able}</p>`;
}

function section(heading: string, html: string): string {
  return html === "" ? "" : `<h2>${escapeHtml(heading)}</h2>\n<div class="scroll">${html}</div>`;
}

function cautionsHtml(cautions: readonly string[]): string {
  if (cautions.length === 0) return "";
  const items = cautions.map((text) => `<p>${escapeHtml(sentence(text))}</p>`).join("\n");
  return section("Cautions", `<div class="bq-caution" role="note">${items}</div>`);
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
  return section(
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
  return section("What is there", tableHtml({ id: "files", caption: "", columns, rows }));
}

import { accountCss } from "../result/account-css.js";
import type { Table } from "../result/figure.js";
import { countText, escapeHtml, tableHtml } from "../result/html.js";
import { renderSvg } from "../result/render-svg.js";
import type { SurveyCheck } from "./check-survey.js";
import type { PassCoverage, Spread } from "./coverage.js";
import { coverageFigure } from "./coverage-figure.js";
import type { SurveyFault } from "./faults.js";

/**
 * The check of a survey folder as one self-contained HTML page: the verdict, every fault, the cautions,
 * what each step can and cannot do, what is there, and how the readings cover the bank, with a figure.
 * It works offline, prints, and holds no script.
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
    faultsHtml(check.faults),
    cautionsHtml(check.cautions),
    stepsHtml(check),
    filesHtml(check),
    await coverageHtml(check.coverage),
  ];
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'">
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

const pageCss = `body{margin:0;background:#fff;color:#222426;font:15px/1.5 Arial,"Liberation Sans",Helvetica,sans-serif}
main.bq{max-width:1160px;margin:0 auto;padding:2rem 1.5rem 4rem}
h1{font-size:1.7rem;line-height:1.2;margin:0 0 .8rem}
h2{font-size:1.2rem;margin:2.2rem 0 .5rem;padding-top:.5rem;border-top:1px solid #c9cdd1}
.verdict{font-size:1.05rem;padding:.6rem .9rem;border-left:5px solid #2b6ca3;background:#eef3f8}
.verdict.faulty{border-color:#b5541c;background:#fbf0ea}
.bq table.bq-table{width:100%}
.bq table.bq-table td{overflow-wrap:break-word}
figure svg{width:100%;height:auto}
.scroll{overflow-x:auto}
@media print{h2{break-after:avoid}tr,figure{break-inside:avoid}}`;

const total = (faults: readonly SurveyFault[]) =>
  faults.reduce((sum, { more }) => sum + 1 + more, 0);

function verdict({ faults, steps }: SurveyCheck): string {
  const ready = steps.filter((step) => step.ready).length;
  const able =
    steps.length === 0
      ? "Without a usable centreline nothing can be placed along the bank."
      : `${ready} of ${steps.length} steps have what they need.`;
  if (faults.length === 0) {
    return `<p class="verdict"><strong>No faults: the survey can be opened.</strong> ${able}</p>`;
  }
  const files = new Set(faults.map(({ file }) => file)).size;
  const count = `${countText(total(faults), "fault")} in ${countText(files, "file")}`;
  return `<p class="verdict faulty"><strong>${count}: the survey cannot be opened until they are put right.</strong> ${able}</p>`;
}

function section(heading: string, html: string): string {
  return html === "" ? "" : `<h2>${escapeHtml(heading)}</h2>\n<div class="scroll">${html}</div>`;
}

function faultsHtml(faults: readonly SurveyFault[]): string {
  if (faults.length === 0) return "";
  const rows = likeFaults(faults).map((group) => {
    const { file, field, rule, hint } = group[0]!;
    const values = [...new Set(group.map(({ value }) => value))];
    const got = values.slice(0, MOST_VALUES).join("; ");
    const value = values.length > MOST_VALUES ? `${got}; …` : got;
    return { file, row: rowsText(group), field, rule, value, hint };
  });
  const columns = [
    { field: "file", label: "File" },
    { field: "row", label: "Row" },
    { field: "field", label: "Field" },
    { field: "rule", label: "Must be" },
    { field: "value", label: "Got" },
    { field: "hint", label: "Likely cause or advice" },
  ];
  const caption = "Rows count as in an editor, the header being row 1.";
  return section("Faults", tableHtml({ id: "faults", caption, columns, rows }));
}

const MOST_VALUES = 4;

/** Faults of one kind in one file and field stand together. */
function likeFaults(faults: readonly SurveyFault[]): readonly (readonly SurveyFault[])[] {
  const groups = new Map<string, SurveyFault[]>();
  for (const fault of faults) {
    const { file, field, code, rule, hint } = fault;
    const key = JSON.stringify([file, field, code, rule, hint]);
    groups.set(key, [...(groups.get(key) ?? []), fault]);
  }
  return [...groups.values()];
}

/** "3, 7, 20–39 and 15 more"; null where a fault is of the whole file. */
function rowsText(group: readonly SurveyFault[]): string | null {
  const rows = group.flatMap(({ row }) => row ?? []);
  if (rows.length === 0) return null;
  const runs: [number, number][] = [];
  for (const row of rows.toSorted((a, b) => a - b)) {
    const last = runs.at(-1);
    if (last !== undefined && row === last[1] + 1) last[1] = row;
    else runs.push([row, row]);
  }
  const text = runs.map(([from, to]) => (from === to ? `${from}` : `${from}–${to}`)).join(", ");
  const more = group.reduce((sum, fault) => sum + fault.more, 0);
  return more === 0 ? text : `${text} and ${more.toLocaleString("en")} more`;
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
    { field: "cannot", label: "Cannot" },
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

async function coverageHtml(coverage: readonly PassCoverage[]): Promise<string> {
  if (coverage.length === 0) return "";
  const figure = coverageFigure(coverage);
  const svg = await renderSvg(figure.spec, { prefix: "coverage-", warnings: "ignore" });
  const drawn = `<figure>${svg}<figcaption>${escapeHtml(figure.caption)}</figcaption></figure>`;
  const tables = [
    passesTable(coverage),
    positionsTable(coverage),
    emptyTable(coverage),
    gapsTable(coverage),
    channelsTable(coverage),
  ];
  return section(
    "Coverage along the bank",
    [drawn, ...tables.map((table) => (table === null ? "" : tableHtml(table)))].join("\n"),
  );
}

const ranged = (spread: Spread | null) =>
  spread === null
    ? null
    : `${spread.median.toFixed(2)} (${spread.p5.toFixed(2)}–${spread.p95.toFixed(2)})`;

function passesTable(coverage: readonly PassCoverage[]): Table {
  return {
    id: "passes",
    caption: "The passes. In brackets: what nine of ten lie between.",
    columns: [
      { field: "campaign", label: "Campaign" },
      { field: "file", label: "File" },
      { field: "readings", label: "Readings", digits: 0 },
      { field: "used", label: "In use", digits: 0 },
      { field: "covered_m", label: "Covers (m)", digits: 0 },
      { field: "spacing", label: "Spacing (m)" },
      { field: "speed", label: "Walking speed (m/s)" },
      { field: "pauses", label: "Pauses over 1 min" },
    ],
    rows: coverage.map((pass) => ({
      campaign: pass.campaign,
      file: pass.file,
      readings: pass.readings,
      used: pass.used,
      covered_m: pass.stretches
        .filter(({ kind }) => kind !== "none")
        .reduce((sum, { from_m, to_m }) => sum + to_m - from_m, 0),
      spacing: ranged(pass.spacing_m),
      speed: ranged(pass.speed_m_per_s),
      pauses:
        pass.pauses === 0
          ? "none"
          : `${pass.pauses}, longest ${(pass.longestPause_s / 60).toFixed(0)} min`,
    })),
  };
}

function positionsTable(coverage: readonly PassCoverage[]): Table {
  return {
    id: "positions",
    caption: "Their positions.",
    columns: [
      { field: "file", label: "File" },
      { field: "positions", label: "Readings with a position", digits: 0 },
      { field: "jitter_m", label: "Jitter (m)", digits: 2 },
      { field: "spikes", label: "Spikes replaced", digits: 0 },
      { field: "bridged", label: "Bridged readings", digits: 0 },
      { field: "stood", label: "Readings standing still", digits: 0 },
      { field: "back_m", label: "Walked back (m)", digits: 0 },
    ],
    rows: coverage.map(({ file, placement }) => ({
      file,
      positions: placement.positions,
      jitter_m: placement.jitter_m,
      spikes: placement.spikes,
      bridged: placement.bridged,
      stood: placement.stood,
      back_m: placement.stepsBack_m,
    })),
  };
}

const LONGEST_LIST = 40;

function emptyTable(coverage: readonly PassCoverage[]): Table | null {
  const rows = coverage.flatMap(({ campaign, file, stretches }) =>
    stretches
      .filter(({ kind }) => kind === "none")
      .map(({ from_m, to_m }) => ({ campaign, file, from_m, to_m, length_m: to_m - from_m })),
  );
  if (rows.length === 0) return null;
  const shown = rows.toSorted((a, b) => b.length_m - a.length_m).slice(0, LONGEST_LIST);
  const more = rows.length > shown.length ? ` The ${shown.length} longest of ${rows.length}.` : "";
  const columns = [
    { field: "campaign", label: "Campaign" },
    { field: "file", label: "File" },
    { field: "from_m", label: "From (m)", digits: 0 },
    { field: "to_m", label: "To (m)", digits: 0 },
    { field: "length_m", label: "Length (m)", digits: 0 },
  ];
  return {
    id: "empty",
    caption: `Stretches without readings in use.${more}`,
    columns,
    rows: shown,
  };
}

function gapsTable(coverage: readonly PassCoverage[]): Table | null {
  const all = coverage.flatMap(({ file, placement }) =>
    placement.gaps.map((gap) => ({ file, ...gap })),
  );
  if (all.length === 0) return null;
  const shown = all.toSorted((a, b) => b.readings - a.readings).slice(0, LONGEST_LIST);
  const more = all.length > shown.length ? ` The ${shown.length} longest of ${all.length}.` : "";
  return {
    id: "gaps",
    caption: `Gaps in the positions.${more}`,
    columns: [
      { field: "file", label: "File" },
      { field: "readings", label: "Readings", digits: 0 },
      { field: "from_m", label: "From (m)", digits: 1 },
      { field: "to_m", label: "To (m)", digits: 1 },
      { field: "duration_s", label: "Lasts (s)", digits: 0 },
      { field: "fate", label: "What becomes of it" },
    ],
    rows: shown.map(({ file, readings, from_m, to_m, duration_s, isBridged }) => ({
      ...{ file, readings, from_m, to_m, duration_s },
      fate: isBridged ? "bridged by time" : "stays a gap; its readings are set aside",
    })),
  };
}

function channelsTable(coverage: readonly PassCoverage[]): Table | null {
  const rows = coverage.flatMap(({ file, channels }) =>
    channels
      .filter(({ missing_pct }) => missing_pct > 0)
      .map(({ field, missing_pct }) => ({ file, field, missing_pct })),
  );
  if (rows.length === 0) return null;
  const columns = [
    { field: "file", label: "File" },
    { field: "field", label: "Channel" },
    { field: "missing_pct", label: "Without a value (%)", digits: 1 },
  ];
  return { id: "channels", caption: "Channels with missing values.", columns, rows };
}

import { escapeHtml, tableHtml } from "../step/show/html.js";
import { renderSvg } from "../step/show/render-svg.js";
import { reportPage, reportSection, verdictHtml } from "../step/show/report-page.js";
import { claimsFigure } from "./claims/claims-figure.js";
import { claimsText } from "./claims/compare-claims.js";
import type { Review } from "./review.js";
import { comparedText, reviewParts, secondText } from "./review-lines.js";
import { sheetText } from "./sheet/sheet.js";

/**
 * A review as one self-contained HTML page: the verdict, every difference by kind, and what a
 * second interpreter agrees with. It works offline, prints, and holds no script.
 *
 * @param review what `reviewAppendix` gave
 * @param options what may be said beside
 * @param options.name the appendix' name for the heading; default "an appendix"
 */
export async function reviewHtml(
  review: Review,
  { name = "an appendix" }: { readonly name?: string } = {},
): Promise<string> {
  const parts = reviewParts(review);
  const sentence = review.agrees
    ? "Executed again, it gives what it holds."
    : "Executed again, it does not give what it holds, or is not what ran.";
  const second = secondText(review);
  return reportPage(`Review of ${name}`, [
    verdictHtml(sentence, { isFault: !review.agrees, more: comparedText(review) }),
    ...parts.map(({ heading, lines }) => reportSection(heading, listHtml(lines))),
    reportSection("Second interpreter", second === "" ? "" : secondHtml(review, second)),
    reportSection("Reviewer's sheet", sheetHtml(review)),
    reportSection("Beside another appendix", await besideHtml(review)),
  ]);
}

function listHtml(lines: readonly string[]): string {
  return `<ul>\n${lines.map((line) => `<li>${escapeHtml(line)}</li>`).join("\n")}\n</ul>`;
}

function secondHtml({ secondInterpreter: second }: Review, sentence: string): string {
  const rows = [
    ...(second?.matched ?? []),
    ...(second?.onlyOne_m ?? []).map((one_m) => ({ one_m, other_m: null })),
    ...(second?.onlyOther_m ?? []).map((other_m) => ({ one_m: null, other_m })),
  ];
  const columns = [
    { field: "one_m", label: "Boundary of the appendix (m)", digits: 1 },
    { field: "other_m", label: "Of the second interpreter (m)", digits: 1 },
  ];
  const place = (row: (typeof rows)[number]) => row.one_m ?? row.other_m ?? 0;
  const ordered = rows.toSorted((a, b) => place(a) - place(b));
  const table = tableHtml({ id: "second", caption: "", columns, rows: ordered });
  return `<p>${escapeHtml(sentence)}</p>\n${table}`;
}

function sheetHtml({ sheet }: Review): string {
  if (sheet === null) return "";
  const columns = [
    { field: "claim", label: "Claim" },
    { field: "verdict", label: "Verdict" },
    { field: "remark", label: "Remark" },
  ];
  const rows = sheet.claims.map((one) => ({ ...one, verdict: one.verdict ?? "open" }));
  return `<p>${escapeHtml(sheetText(sheet))}</p>\n${tableHtml({ id: "sheet", caption: "", columns, rows })}`;
}

async function besideHtml({ beside }: Review): Promise<string> {
  if (beside === null) return "";
  const columns = [
    { field: "outcome", label: "Holds in" },
    { field: "here", label: "This appendix" },
    { field: "there", label: "The other" },
    { field: "how", label: "How they differ" },
  ];
  const rows = beside.map(({ outcome, here, there, how }) => {
    return { outcome, here: here ?? "", there: there ?? "", how };
  });
  const figure = claimsFigure(beside);
  const drawn =
    figure === null
      ? `<p>${escapeHtml(claimsText(beside))}</p>`
      : `<figure>${await renderSvg(figure.spec, { prefix: "beside-", warnings: "ignore" })}` +
        `<figcaption>${escapeHtml(figure.caption)}</figcaption></figure>`;
  return `${drawn}\n${tableHtml({ id: "beside", caption: "", columns, rows })}`;
}

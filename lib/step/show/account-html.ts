import { type Accounting, setAsideTotal } from "../account.js";
import type { Table } from "../figure.js";
import type { Basis, Caution, StepAccount } from "../step-account.js";
import { accountCss } from "./account-css.js";
import { countText, escapeHtml, numberText, shortTable, tableHtml, valueText } from "./html.js";

/** A step's account as HTML; `figures` is put after the cautions. */
export function accountHtml(account: StepAccount<unknown>, figures = ""): string {
  return [
    `<div class="bq"><style>${accountCss}</style>`,
    `<p class="bq-summary">${escapeHtml(account.summary)}</p>`,
    account.accounting === null
      ? ""
      : `<p class="bq-counts">${escapeHtml(countsText(account.accounting))}</p>`,
    cautionsHtml(account.cautions),
    figures,
    ...account.tables.map(foldedTable),
    howHtml(account),
    "</div>",
  ]
    .filter((part) => part !== "")
    .join("\n");
}

/** The account as plain text: summary, counts, cautions. */
export function accountText(account: StepAccount<unknown>): string {
  const counts = account.accounting === null ? [] : [countsText(account.accounting)];
  const cautions = account.cautions.map(({ text }) => `Caution: ${text}`);
  return [account.summary, ...counts, ...cautions].join("\n");
}

/** "12,000 readings: 9,000 kept, 2,500 corrected, 500 set aside." */
export function countsText(accounting: Accounting): string {
  const { readings, kept, corrected } = accounting;
  const aside = numberText(setAsideTotal(accounting));
  const used = `${numberText(kept)} kept, ${numberText(corrected)} corrected`;
  return `${countText(readings, "reading")}: ${used}, ${aside} set aside.`;
}

function cautionsHtml(cautions: readonly Caution[]): string {
  if (cautions.length === 0) return "";
  const texts = [...new Set(cautions.map(({ text }) => text))];
  const items = texts.map((text) => `<p><strong>Caution.</strong> ${escapeHtml(text)}</p>`);
  return `<div class="bq-caution" role="note">${items.join("\n")}</div>`;
}

function foldedTable(table: Table): string {
  if (table.rows.length <= shortTable) return tableHtml(table);
  const heading = `${escapeHtml(table.caption)} (${countText(table.rows.length, "row")})`;
  const html = tableHtml({ ...table, caption: "" });
  return `<details><summary>${heading}</summary>\n${html}</details>`;
}

function howHtml(account: StepAccount<unknown>): string {
  const parts = [
    account.accounting === null ? "" : accountingHtml(account.accounting),
    optionsHtml(account.used),
    basisHtml(account.basis),
  ].filter((part) => part !== "");
  if (parts.length === 0) return "";
  const heading = `How <code>${escapeHtml(account.step)}</code> did it: readings, options, basis`;
  const head = `<summary>${heading}</summary>`;
  return `<details class="bq-how">${head}\n${parts.join("\n")}</details>`;
}

function accountingHtml(accounting: Accounting): string {
  const { readings, kept, corrected, setAside } = accounting;
  const rows = [
    { what: "In use as they came", readings: kept },
    { what: "In use, corrected", readings: corrected },
    ...setAside.map((entry) => ({ what: `Set aside: ${entry.cause}`, readings: entry.readings })),
    { what: "All readings", readings },
  ];
  const columns = [
    { field: "what", label: "Readings" },
    { field: "readings", label: "Number", digits: 0 },
  ];
  return tableHtml({ id: "readings", caption: "What became of the readings", columns, rows });
}

function optionsHtml(used: StepAccount<unknown>["used"]): string {
  const rows = Object.entries(used).map(([option, value]) => ({ option, value: valueText(value) }));
  if (rows.length === 0) return "";
  const columns = [
    { field: "option", label: "Option" },
    { field: "value", label: "Value" },
  ];
  return tableHtml({ id: "options", caption: "Options used", columns, rows });
}

function basisHtml(basis: readonly Basis[]): string {
  if (basis.length === 0) return "";
  const items = basis.map(
    ({ statement, source }) =>
      `<li>${escapeHtml(statement)} <span class="bq-source">(${escapeHtml(source)})</span></li>`,
  );
  return `<h4>Basis</h4>\n<ul>${items.join("\n")}</ul>`;
}

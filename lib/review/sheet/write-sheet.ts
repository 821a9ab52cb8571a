import Papa from "papaparse";
import type { Findings } from "../../chain/findings.js";
import { formulaStart } from "../../handover/formula-start.js";
import { appendixClaims } from "../claims/appendix-claims.js";

/** Columns of a reviewer's sheet; the middle three are to be filled in. */
const columns = [
  ...["claim", "statement"],
  ...["verdict", "remark", "reviewer"],
  ...["evidence", "alternatives"],
];

/**
 * A reviewer's sheet to be filled in, CSV: a row a claim with its statement, evidence and
 * alternatives; `verdict` (agree, disagree, unsure), `remark` and `reviewer` are blank. A text that
 * a spreadsheet would take for a formula has an apostrophe before it.
 *
 * @param findings the content of findings.json
 */
export function reviewSheetCsv(findings: Findings): string {
  const data = appendixClaims(findings).map(({ id, statement, evidence, alternatives }) => [
    ...[id, statement],
    ...["", "", ""],
    ...[evidence, alternatives.join("\n")],
  ]);
  const options = { newline: "\n", escapeFormulae: formulaStart };
  return `${Papa.unparse({ fields: columns, data }, options)}\n`;
}

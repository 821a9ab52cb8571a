import Papa from "papaparse";
import { expect, it } from "vitest";
import { appendixClaims } from "../../../lib/review/claims/appendix-claims.js";
import { readReviewSheet } from "../../../lib/review/sheet/read-sheet.js";
import { sheetText } from "../../../lib/review/sheet/sheet.js";
import { reviewSheetCsv } from "../../../lib/review/sheet/write-sheet.js";
import { madeFindings } from "../support/made-findings.js";

const findings = madeFindings();
type Row = Record<string, string>;

/** The blank sheet with rows filled in, as a spreadsheet writes it. */
function filledIn(fill: (rows: Row[]) => void, delimiter = ","): string {
  const { data } = Papa.parse<Row>(reviewSheetCsv(findings), {
    header: true,
    skipEmptyLines: true,
  });
  fill(data);
  return `\uFEFF${Papa.unparse(data, { delimiter, newline: "\r\n" })}\r\n`;
}

it("reads a blank sheet as every claim left open", () => {
  const { sheet } = readReviewSheet(reviewSheetCsv(findings), findings);
  expect(sheet?.claims.map(({ claim }) => claim)).toEqual(
    appendixClaims(findings).map(({ id }) => id),
  );
  expect(sheet?.claims.every(({ verdict }) => verdict === null)).toBe(true);
});

it.each([",", ";", "\t"])("reads back what was filled in, parted by %j", (delimiter) => {
  const text = filledIn((rows) => {
    Object.assign(rows[0]!, { verdict: "Agree", reviewer: "C. Rush" });
    Object.assign(rows[3]!, { verdict: "disagree", remark: 'The "fall" is one pass; see notes' });
  }, delimiter);
  const { sheet } = readReviewSheet(text, findings);
  expect(sheet?.claims[0]).toEqual({ claim: "block B1", verdict: "agree", remark: "" });
  expect(sheet?.claims[3]).toMatchObject({
    verdict: "disagree",
    remark: 'The "fall" is one pass; see notes',
  });
  expect(sheet?.sha256).toMatch(/^[0-9a-f]{64}$/);
  expect(sheetText(sheet!)).toMatch(
    /^C\. Rush, on 8 claims: agree 1, disagree 1, unsure 0, open 6 \(sheet [0-9a-f]{12}\)\.$/,
  );
});

it("names every fault of a sheet at once, by row and column", () => {
  const text = filledIn((rows) => {
    rows[0]!.verdict = "yes";
    rows[1]!.claim = "block B9";
    rows[3]!.claim = "metal 40–52 m";
  });
  expect(readReviewSheet(text, findings).faults).toEqual([
    'row 2, verdict: must be agree, disagree, unsure or blank, got "yes"',
    'row 3, claim: must be a claim of the appendix, got "block B9"',
    'row 5, claim: must stand once, got "metal 40–52 m" again',
  ]);
  expect(readReviewSheet("a,b\n1,2\n", findings).faults).toEqual([
    "row 1: must have the columns claim and verdict",
  ]);
});

it("writes no text that a spreadsheet takes for a formula", () => {
  const [hole] = findings.boreholes;
  const hostile = madeFindings({ boreholes: [{ ...hole!, reason: '=HYPERLINK("x")' }] });
  expect(reviewSheetCsv(hostile)).toContain(`"'=HYPERLINK(""x"")"`);
});

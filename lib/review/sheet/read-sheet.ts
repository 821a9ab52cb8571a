import { createHash } from "node:crypto";
import Papa from "papaparse";
import type { Findings } from "../../chain/findings.js";
import { appendixClaims } from "../claims/appendix-claims.js";
import { type ReviewedClaim, type ReviewSheet, type Verdict, verdicts } from "./sheet.js";

type Row = Readonly<Record<string, string | undefined>>;

/** A sheet, or every fault of it: "row 4, verdict: must be …". */
export type SheetRead =
  | { readonly sheet: ReviewSheet; readonly faults: readonly [] }
  | { readonly sheet: null; readonly faults: readonly string[] };

/**
 * Reads a reviewer's sheet back. Every row must name a claim of the appendix, each once; a claim
 * without a row, or with a blank verdict, is open. Columns beside `claim`, `verdict`, `remark` and
 * `reviewer` are for the reader and are not looked at. The separator may be a comma, a semicolon or
 * a tab, as spreadsheets write them.
 *
 * @param text the sheet as CSV
 * @param findings of the appendix that it reviews
 */
export function readReviewSheet(text: string, findings: Findings): SheetRead {
  const { data, meta } = Papa.parse<Row>(text.replace(/^\uFEFF/, ""), {
    header: true,
    skipEmptyLines: "greedy",
    delimitersToGuess: [",", ";", "\t"],
    transformHeader: (name) => name.trim().toLowerCase(),
  });
  const missing = ["claim", "verdict"].filter((name) => !meta.fields?.includes(name));
  if (missing.length > 0) {
    return { sheet: null, faults: [`row 1: must have the columns ${missing.join(" and ")}`] };
  }
  const known = appendixClaims(findings).map(({ id }) => id);
  const faults = data.flatMap((row, i) => rowFaults(row, i, { known, data }));
  if (faults.length > 0) return { sheet: null, faults };
  const sheet = {
    reviewer: reviewersOf(data),
    sha256: createHash("sha256").update(text).digest("hex"),
    claims: known.map((claim) => reviewed(claim, data)),
  };
  return { sheet, faults: [] };
}

interface Whole {
  readonly known: readonly string[];
  readonly data: readonly Row[];
}

const cell = (row: Row | undefined, name: string) => (row?.[name] ?? "").trim();
const verdictIn = (row: Row) => cell(row, "verdict").toLowerCase();

/** Rows count from the heading, as a spreadsheet without texts of several lines does. */
function rowFaults(row: Row, i: number, { known, data }: Whole): readonly string[] {
  const claim = cell(row, "claim");
  const place = `row ${i + 2}`;
  const twice = data.findIndex((other) => cell(other, "claim") === claim) < i;
  const verdict = verdictIn(row);
  const isVerdict = verdict === "" || (verdicts as readonly string[]).includes(verdict);
  return [
    ...(known.includes(claim)
      ? []
      : [`${place}, claim: must be a claim of the appendix, got "${claim}"`]),
    ...(twice && known.includes(claim)
      ? [`${place}, claim: must stand once, got "${claim}" again`]
      : []),
    ...(isVerdict
      ? []
      : [
          `${place}, verdict: must be ${verdicts.join(", ")} or blank, got "${cell(row, "verdict")}"`,
        ]),
  ];
}

function reviewed(claim: string, data: readonly Row[]): ReviewedClaim {
  const row = data.find((one) => cell(one, "claim") === claim);
  const verdict = row === undefined ? "" : verdictIn(row);
  return {
    claim,
    verdict: verdict === "" ? null : (verdict as Verdict),
    remark: cell(row, "remark"),
  };
}

const reviewersOf = (data: readonly Row[]) =>
  [...new Set(data.map((row) => cell(row, "reviewer")).filter((name) => name !== ""))].join(", ");

import Papa from "papaparse";
import { fateOf } from "../survey/account/reading-status.js";
import type { Campaign } from "../survey/survey.js";
import { formulaStart } from "./formula-start.js";
import { positionWord } from "./position-word.js";

/**
 * accounting.csv: one row a reading of every campaign, in file order: where it stands in the input,
 * whether its position was measured or bridged over a gap, its status and why. Rows in use list the
 * channels that are set aside all the same. A campaign of several lines comes line by line. A text
 * that a spreadsheet would take for a formula has an apostrophe before it.
 */
export function accountingCsv(campaigns: readonly Campaign[]): string {
  const rows: Row[] = [];
  for (const campaign of campaigns) {
    for (const [p, pass] of campaign.passes.entries()) {
      for (let row = 0; row < pass.count; row++) {
        const { fate, cause, channels } = fateOf(campaign, p, row);
        const x = pass.chainage_m[row]!;
        rows.push([
          campaign.label,
          pass.file,
          pass.row[row]!,
          Number.isNaN(x) ? "" : x.toFixed(2),
          positionWord(pass, row),
          fate,
          cause ?? "",
          fate === "set aside" ? "" : channels.join(" "),
        ]);
      }
    }
  }
  const labels = campaigns.map(({ label }) => label);
  if (new Set(labels).size < labels.length) toFileOrder(rows);
  const options = { newline: "\n", escapeFormulae: formulaStart };
  return `${Papa.unparse({ fields: [...FIELDS], data: rows }, options)}\n`;
}

type Row = (string | number)[];

/** Rows of lines back between each other as the files have them, files as they come first. */
function toFileOrder(rows: Row[]): void {
  const [labels, files] = [0, 1].map((k) => [...new Set(rows.map((row) => row[k]))]);
  const rank = new Map(rows.map((row) => [`${row[0]}\n${row[1]}`, 0]));
  for (const key of rank.keys()) {
    const [label, file] = key.split("\n");
    rank.set(key, (labels?.indexOf(label) ?? 0) * rows.length + (files?.indexOf(file) ?? 0));
  }
  const placeOf = (row: Row) => rank.get(`${row[0]}\n${row[1]}`) ?? 0;
  rows.sort((one, other) => placeOf(one) - placeOf(other) || Number(one[2]) - Number(other[2]));
}

const FIELDS = [
  "campaign",
  "file",
  "row",
  "chainage_m",
  "position",
  "fate",
  "cause",
  "channels_set_aside",
] as const;

import Papa from "papaparse";
import { fateOf } from "../survey/account/reading-status.js";
import type { Campaign } from "../survey/survey.js";

/**
 * accounting.csv: one row a reading of every campaign, in file order: where it stands in the input,
 * whether its position was measured or bridged over a gap, its status and why. Rows in use list the
 * channels that are set aside all the same.
 */
export function accountingCsv(campaigns: readonly Campaign[]): string {
  const rows: (string | number)[][] = [];
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
          pass.positionBridged?.[row] === 1 ? "bridged" : Number.isNaN(x) ? "none" : "measured",
          fate,
          cause ?? "",
          fate === "set aside" ? "" : channels.join(" "),
        ]);
      }
    }
  }
  return `${Papa.unparse({ fields: [...FIELDS], data: rows }, { newline: "\n" })}\n`;
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

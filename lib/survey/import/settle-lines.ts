import type { LinePlacement } from "../read/package/descriptor.js";
import type { Enquiry } from "./enquiry.js";
import { roleColumn } from "./settle-role.js";
import type { TableSource } from "./table-source.js";

const PLACEMENT = /^(along|across)[ ,]+(-?\d+(?:\.\d+)?)(?:[ ,]+(-?\d+(?:\.\d+)?))?$/;

/** Where the electrode lines of a table lie on the bank, which no column says. */
export function settleLines(
  { file, layout, rows }: TableSource,
  enquiry: Enquiry,
): readonly LinePlacement[] {
  const at = roleColumn(layout, "line");
  const names = [...new Set(rows.map((cells) => cells[at] ?? ""))].filter((name) => name !== "");
  return names.flatMap((line) => {
    const answer = enquiry.settle({
      file: file.name,
      name: `line ${line}`,
      ask: `How does electrode line ${line} run (along or across), and at which chainage and offset, m, is its x = 0?`,
      guess: null,
      why: "the electrodes do not say",
      broken: (text) => (PLACEMENT.test(text) ? null : "such as: along 412 0"),
    });
    const match = PLACEMENT.exec(answer ?? "");
    if (match === null) return [];
    const [, runs, chainage, offset = "0"] = match;
    const place = { chainage_m: Number(chainage), offset_m: Number(offset) };
    return [{ line, runs: runs as LinePlacement["runs"], ...place }];
  });
}

import type { Table } from "../../step/figure.js";
import type { InterferenceAcross } from "./stretches-across.js";

/** One row a stretch: what stays, and what came or went. */
export function acrossTable(value: readonly InterferenceAcross[]): Table {
  return {
    id: "interference-across",
    caption: "Disturbed stretches by campaign: what stays, and what came or went.",
    columns: [
      { field: "from_m", label: "From (m)", digits: 1 },
      { field: "to_m", label: "To (m)", digits: 1 },
      { field: "object", label: "Object" },
      { field: "seen", label: "Seen in" },
      { field: "absent", label: "Read, not seen" },
      { field: "verdict", label: "Verdict" },
    ],
    rows: value.map((one) => ({
      from_m: one.from_m,
      to_m: one.to_m,
      object: one.object === "" ? "not noted" : one.object,
      seen: one.seenIn.join(", "),
      absent: one.absentIn.join(", "),
      verdict: one.verdict,
    })),
  };
}

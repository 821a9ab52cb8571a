import type { Table } from "../../step/figure.js";
import { depthText, intervalText } from "../ranges.js";
import type { Changes } from "./changes.js";

/** One row a stretch: where, which way, how much, how sure. */
export function changesTable({ changes, earlier, later }: Changes): Table {
  return {
    id: `changes-${earlier}-${later}`,
    caption:
      `Stretches whose resistivity changed from ${earlier} to ${later}. The ratio is later over ` +
      "earlier at 25 °C, relative to the line's stable majority, in the slice where it shows " +
      "most; q is the p-value, adjusted for all that was tested. By depth, each ratio stands with its 90 " +
      "% interval.",
    columns: [
      { field: "from_m", label: "From (m)", digits: 1 },
      { field: "to_m", label: "To (m)", digits: 1 },
      { field: "direction", label: "Resistivity" },
      { field: "ratio", label: "Ratio", digits: 2 },
      { field: "interval", label: "90 % interval" },
      { field: "q", label: "q" },
      { field: "slices", label: "Depths (m)" },
      { field: "byDepth", label: "Ratio by depth" },
    ],
    rows: changes.map((change) => ({
      from_m: change.from_m,
      to_m: change.to_m,
      direction: change.direction,
      ratio: change.ratio,
      q: change.q < 1e-4 ? "< 0.0001" : change.q.toPrecision(2),
      slices: change.slices.join(", "),
      interval: change.ratioInterval ? intervalText(change.ratioInterval) : "",
      byDepth: (change.bySlice ?? [])
        .map(
          (one) => `${depthText(one)} m: ${one.ratio.toFixed(2)} (${intervalText(one.interval)})`,
        )
        .join("; "),
    })),
  };
}

import { valueAt } from "../../../numerics/arrays.js";
import type { Table } from "../../../step/figure.js";
import { metres } from "./finding.js";
import type { Sounding } from "./sounding.js";

export function soundingTable(value: Sounding): Table {
  const { top_m, borehole } = value;
  const soilAt = (depth_m: number) =>
    borehole?.strata.find((one) => depth_m >= one.top_m && depth_m < one.base_m)?.soil ?? null;
  return {
    id: `depth-sounding-${value.campaign}-${Math.round(value.chainage_m)}`,
    caption: `Layers under ${metres(value.chainage_m)} m, campaign ${value.campaign}`,
    columns: [
      { field: "from", label: "From (m)", digits: 2 },
      { field: "to", label: "To (m)", digits: 2 },
      { field: "ohm_m", label: "Resistivity (ohm-m)", digits: 1 },
      { field: "p10", label: "10 % (ohm-m)", digits: 1 },
      { field: "p90", label: "90 % (ohm-m)", digits: 1 },
      { field: "decided", label: "Readings decide (%)", digits: 0 },
      { field: "reliable", label: "Reliable" },
      ...(borehole ? [{ field: "soil", label: `At its middle in ${borehole.borehole}` }] : []),
    ],
    rows: Array.from(top_m, (top, j) => ({
      from: top,
      to: top_m[j + 1] ?? null,
      ohm_m: valueAt(value.resistivity_ohm_m, j),
      p10: valueAt(value.p10_ohm_m, j),
      p90: valueAt(value.p90_ohm_m, j),
      decided: 100 * valueAt(value.learned, j),
      reliable: (top_m[j + 1] ?? Infinity) <= value.reliableTo_m ? "yes" : "no",
      ...(borehole && { soil: soilAt((top + (top_m[j + 1] ?? top)) / 2) }),
    })),
  };
}

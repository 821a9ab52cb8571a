import type { Table } from "../../step/figure.js";
import { depthText, intervalText } from "../ranges.js";
import { type HeadResponse, pointText, strongestSlice } from "./head-response.js";

/** One row a stretch that responds. */
export function headTable(value: HeadResponse): Table {
  return {
    id: `head-${value.point}`,
    caption:
      `Stretches whose resistivity follows ${pointText(value.point)}: the factor for one metre ` +
      "of head, with its 90 % interval, in the slice that follows most surely.",
    columns: [
      { field: "from_m", label: "From (m)", digits: 1 },
      { field: "to_m", label: "To (m)", digits: 1 },
      { field: "depth", label: "Depth (m)" },
      { field: "ratio", label: "Factor a metre", digits: 3 },
      { field: "interval", label: "90 % interval" },
      { field: "lag", label: "Lag (days)" },
      { field: "q", label: "q" },
    ],
    rows: value.stretches
      .filter((one) => one.responds)
      .map((one) => {
        const slice = strongestSlice(one);
        return {
          from_m: one.from_m,
          to_m: one.to_m,
          depth: depthText(slice),
          ratio: slice.ratioPerMetre,
          interval: intervalText(slice.interval, 3),
          lag: `${slice.lag_days} (${slice.lagRange_days.join("–")})`,
          q: one.q < 1e-4 ? "< 0.0001" : one.q.toPrecision(2),
        };
      }),
  };
}

import { valueAt } from "../numerics/arrays.js";
import { median, quantile } from "../numerics/statistics/robust.js";
import type { Table } from "../step/figure.js";
import type { DepthSlices } from "./depth-slices.js";
import { sliceColumns } from "./slices/slice-columns.js";
import { residualTables } from "./views/residuals/residual-tables.js";

/** The slices, and the fit of each channel. */
export function depthTables(value: DepthSlices): readonly Table[] {
  return [depthTable(value), ...residualTables(value)];
}

const BOUNDS = {
  both: "from both sides",
  below: "from below only",
  above: "from above only",
  neither: "from neither",
} as const;

function depthTable(value: DepthSlices): Table {
  const rows = sliceColumns(value).map(({ slice, mean, p10, p90 }) => {
    const ohm_m = mean.map((v) => 10 ** v);
    return {
      slice: `${slice.top_m.toFixed(1)}–${slice.base_m.toFixed(1)}`,
      reliable: slice.reliable ? "yes" : "no",
      apart: slice.toldApart === false ? "no" : "yes",
      p10: quantile(ohm_m, 0.1),
      median: quantile(ohm_m, 0.5),
      p90: quantile(ohm_m, 0.9),
      down: 10 ** median(mean.map((v, i) => v - valueAt(p10, i))),
      up: 10 ** median(p90.map((v, i) => v - valueAt(mean, i))),
      bounded: BOUNDS[slice.bounded ?? "both"],
    };
  });
  return {
    id: `depth-${value.campaign}`,
    caption: `Depth slices of campaign ${value.campaign}, over all stations`,
    columns: [
      { field: "slice", label: "Depth (m)" },
      { field: "reliable", label: "Reliable" },
      { field: "apart", label: "Told apart" },
      { field: "p10", label: "10 % (ohm-m)", digits: 1 },
      { field: "median", label: "Median (ohm-m)", digits: 1 },
      { field: "p90", label: "90 % (ohm-m)", digits: 1 },
      { field: "down", label: "80 % interval, down to 1/", digits: 2 },
      { field: "up", label: "up to times", digits: 2 },
      { field: "bounded", label: "Bounded" },
    ],
    rows,
  };
}

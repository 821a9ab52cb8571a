import { itemAt, valueAt } from "../numerics/arrays.js";
import { median, quantile } from "../numerics/statistics/robust.js";
import type { Table } from "../step/figure.js";
import type { DepthSlices, Slice } from "./depth-slices.js";
import { sliceColumns } from "./slices/slice-columns.js";
import { residualTables } from "./views/residuals/residual-tables.js";

/** The slices, what the instrument's errors may do to them, and the fit of each channel. */
export function depthTables(value: DepthSlices): readonly Table[] {
  return [depthTable(value), ...errorTables(value), ...residualTables(value)];
}

/** None where no such errors are known. */
function errorTables({ campaign, slices, sd, errorEffects }: DepthSlices): readonly Table[] {
  if (errorEffects === undefined) return [];
  const percent = (log10: number) => 100 * (10 ** log10 - 1);
  const rows = errorEffects.map(({ gain, zero, drift, height }, k) => ({
    slice: depthsText(itemAt(slices, k)),
    gain: percent(gain),
    zero: percent(zero),
    drift: percent(drift),
    height: percent(height),
    whole: percent(median(itemAt(sd, k))),
  }));
  return [
    {
      id: `depth-errors-${campaign}`,
      caption:
        `What errors of the instrument do to the slices of campaign ${campaign}: percent of the ` +
        "resistivity where each error is off by its stated standard deviation, and the slice's " +
        "own, which holds them",
      columns: [
        { field: "slice", label: "Depth (m)" },
        { field: "gain", label: "Gains (%)", digits: 1 },
        { field: "zero", label: "Zeros (%)", digits: 1 },
        { field: "drift", label: "Drift left (%)", digits: 1 },
        { field: "height", label: "Height of the coils (%)", digits: 1 },
        { field: "whole", label: "All that is unknown (%)", digits: 1 },
      ],
      rows,
    },
  ];
}

const depthsText = ({ top_m, base_m }: Slice) => `${top_m.toFixed(1)}–${base_m.toFixed(1)}`;

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
      slice: depthsText(slice),
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

import { stripSpec } from "../figures/strip/strip.js";
import { NORMAL_90 } from "../numerics/normal.js";
import { quantile } from "../numerics/robust.js";
import type { Figure, Table } from "../step/figure.js";
import { gapBands } from "./data/gap-bands.js";
import type { DepthSlices } from "./depth-slices.js";
import { residualFigures } from "./views/residual-figure.js";
import { residualTables } from "./views/residual-tables.js";
import { sectionFigure } from "./views/section-figure.js";

/** The section along chainage, the slices with their bands, and what the model does not explain. */
export function depthFigures(value: DepthSlices): readonly Figure[] {
  return [sectionFigure(value), slicesFigure(value), ...residualFigures(value)];
}

/** The slices, and how each channel is met. */
export function depthTables(value: DepthSlices): readonly Table[] {
  return [depthTable(value), ...residualTables(value)];
}

function slicesFigure(value: DepthSlices): Figure {
  const count = value.slices.length;
  const mixed = value.slices.filter((slice) => slice.toldApart === false).length;
  const told = mixed === 0 ? "told apart along the bank" : `${mixed} of them mixed with neighbours`;
  const title = `Campaign ${value.campaign}: ${count} depth ${count === 1 ? "slice" : "slices"}, ${told}`;
  return {
    id: `depth-slices-${value.campaign}`,
    title,
    caption:
      "Mean resistivity of each slice at field temperature. Bands hold the true value with " +
      "80 % probability under the stated noise and prior. A slice that is not told apart moves half " +
      "as much with a neighbour's ground as with its own, or more. Curves stop where readings are set " +
      "aside or missing.",
    spec: stripSpec({
      title,
      panels: value.slices.map((slice, k) => ({
        kind: "lines" as const,
        label:
          `${slice.top_m.toFixed(1)}–${slice.base_m.toFixed(1)} m` +
          `${slice.reliable ? "" : " (not reliable)"}` +
          `${slice.toldApart === false ? ", not told apart from its neighbours" : ""} (ohm-m)`,
        scale: "log" as const,
        height_px: 90,
        legend: "",
        series: [bandSeries(value, k)],
      })),
      setAside: gapBands(value),
    }),
  };
}

function bandSeries(value: DepthSlices, k: number) {
  const mean = value.log10Resistivity[k]!;
  const sd = value.sd[k]!;
  return {
    name: "resistivity",
    x: value.chainage_m,
    y: mean.map((v) => 10 ** v),
    lo: mean.map((v, i) => 10 ** (v - NORMAL_90 * sd[i]!)),
    hi: mean.map((v, i) => 10 ** (v + NORMAL_90 * sd[i]!)),
  };
}

function depthTable(value: DepthSlices): Table {
  const rows = value.slices.map((slice, k) => {
    const ohm_m = value.log10Resistivity[k]!.map((v) => 10 ** v);
    return {
      slice: `${slice.top_m.toFixed(1)}–${slice.base_m.toFixed(1)}`,
      reliable: slice.reliable ? "yes" : "no",
      apart: slice.toldApart === false ? "no" : "yes",
      p10: quantile(ohm_m, 0.1),
      median: quantile(ohm_m, 0.5),
      p90: quantile(ohm_m, 0.9),
      factor: 10 ** (NORMAL_90 * quantile(value.sd[k]!, 0.5)),
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
      { field: "factor", label: "80 % interval, times or over", digits: 2 },
    ],
    rows,
  };
}

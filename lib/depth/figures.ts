import { stripSpec } from "../figures/strip/strip.js";
import type { Figure } from "../step/figure.js";
import { gapBands } from "./data/gap-bands.js";
import type { DepthSlices } from "./depth-slices.js";
import { boundText, type SliceColumn, sliceColumns } from "./slices/slice-columns.js";
import { residualFigures } from "./views/residuals/residual-figure.js";
import { sectionFigure } from "./views/section/section-figure.js";

/** The section along chainage, the slices with their intervals, and the residuals. */
export function depthFigures(value: DepthSlices): readonly Figure[] {
  return [sectionFigure(value), slicesFigure(value), ...residualFigures(value)];
}

function slicesFigure(value: DepthSlices): Figure {
  const count = value.slices.length;
  const mixed = value.slices.filter((slice) => slice.toldApart === false).length;
  const told = mixed === 0 ? "told apart along the bank" : `${mixed} of them mixed with neighbours`;
  const noun = count === 1 ? "slice" : "slices";
  const title = `Campaign ${value.campaign}: ${count} depth ${noun}, ${told}`;
  return {
    id: `depth-slices-${value.campaign}`,
    title,
    caption:
      "Mean resistivity of each slice at field temperature. Bands hold the true value with 80 % " +
      "probability under the stated noise and prior. A slice that is not told apart moves half " +
      "as much with a neighbour's ground as with its own, or more. Curves stop where readings " +
      "are set aside or missing.",
    spec: stripSpec({
      title,
      panels: sliceColumns(value).map(({ slice, ...column }) => ({
        kind: "lines" as const,
        label:
          `${slice.top_m.toFixed(1)}–${slice.base_m.toFixed(1)} m` +
          `${slice.reliable ? "" : " (not reliable)"}${boundText(slice)}` +
          `${slice.toldApart === false ? ", not told apart from its neighbours" : ""} (ohm-m)`,
        scale: "log" as const,
        height_px: 90,
        legend: "",
        series: [bandSeries(value.chainage_m, column)],
      })),
      setAside: gapBands(value),
    }),
  };
}

function bandSeries(x: Float64Array, { mean, p10, p90 }: Omit<SliceColumn, "slice">) {
  const ohm_m = (values: Float64Array) => values.map((value) => 10 ** value);
  return { name: "resistivity", x, y: ohm_m(mean), lo: ohm_m(p10), hi: ohm_m(p90) };
}

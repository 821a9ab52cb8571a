import { stripSpec } from "../figures/strip/strip.js";
import { NORMAL_90 } from "../numerics/normal.js";
import type { Figure } from "../step/figure.js";
import { gapBands } from "./data/gap-bands.js";
import type { DepthSlices } from "./depth-slices.js";
import { residualFigures } from "./views/residuals/residual-figure.js";
import { sectionFigure } from "./views/section/section-figure.js";

/** The section along chainage, the slices with their bands, and what the model does not explain. */
export function depthFigures(value: DepthSlices): readonly Figure[] {
  return [sectionFigure(value), slicesFigure(value), ...residualFigures(value)];
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

import { type Cell, stripSpec } from "../figures/strip.js";
import { quantile } from "../numerics/robust.js";
import type { Figure, Table } from "../result/figure.js";
import type { DepthSlices } from "./depth-slices.js";
import { gapBands } from "./gap-bands.js";

/** The section along chainage, and the slices with their bands. */
export function depthFigures(value: DepthSlices): readonly Figure[] {
  return [sectionFigure(value), slicesFigure(value)];
}

function sectionFigure(value: DepthSlices): Figure {
  const title =
    `Campaign ${value.campaign}: resistivity by depth, to be trusted down to ` +
    `${value.reliableTo_m.toFixed(1)} m`;
  return {
    id: `depth-section-${value.campaign}`,
    title,
    caption:
      "Model resistivity under the crest at field temperature. Colours fade where the data say " +
      "little and the prior decides. Blank stretches have no estimate. The lowest panel shows how " +
      "well the readings are met: 1 is as well as their noise allows.",
    spec: stripSpec({
      title,
      subtitle: `${value.independentLevels.toFixed(1)} independent levels in the data`,
      panels: [
        {
          kind: "cells",
          label: "Resistivity under the crest (ohm-m)",
          unit: "ohm-m",
          cells: sectionCells(value),
          height_px: 190,
          reliableTo_m: value.reliableTo_m,
        },
        {
          kind: "lines",
          label: "Misfit (times the noise)",
          scale: "linear",
          height_px: 70,
          series: [{ name: "misfit", x: value.chainage_m, y: value.misfit }],
          legend: "",
        },
      ],
      setAside: gapBands(value),
    }),
  };
}

/** Stations are thinned to about 400 columns: means of neighbouring stations. */
function sectionCells(value: DepthSlices): Cell[] {
  const { top_m, log10Resistivity, learned } = value.layers;
  const m = top_m.length;
  const n = value.chainage_m.length;
  const together = Math.max(1, Math.ceil(n / 400));
  const bottom = 1.5 * Math.max(value.reliableTo_m, 1);
  const cells: Cell[] = [];
  for (let i = 0; i < n; i += together) {
    const group = Array.from({ length: Math.min(together, n - i) }, (_, k) => i + k).filter(
      (station) => value.gap[station] === "",
    );
    if (group.length === 0) continue;
    const half = value.spacing_m / 2;
    const from_m = value.chainage_m[group[0]!]! - half;
    const to_m = value.chainage_m[group[group.length - 1]!]! + half;
    for (let j = 0; j < m && top_m[j]! < bottom; j++) {
      const mean = (of: Float64Array) =>
        group.reduce((sum, station) => sum + of[station * m + j]!, 0) / group.length;
      cells.push({
        from_m,
        to_m,
        top_m: top_m[j]!,
        base_m: Math.min(top_m[j + 1] ?? bottom, bottom),
        value: 10 ** mean(log10Resistivity),
        confidence: Math.min(1, Math.max(0, (mean(learned) - 0.3) / 0.5)),
      });
    }
  }
  return cells;
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

const Z_80 = 1.2815515655446004;

function bandSeries(value: DepthSlices, k: number) {
  const mean = value.log10Resistivity[k]!;
  const sd = value.sd[k]!;
  return {
    name: "resistivity",
    x: value.chainage_m,
    y: mean.map((v) => 10 ** v),
    lo: mean.map((v, i) => 10 ** (v - Z_80 * sd[i]!)),
    hi: mean.map((v, i) => 10 ** (v + Z_80 * sd[i]!)),
  };
}

export function depthTable(value: DepthSlices): Table {
  const rows = value.slices.map((slice, k) => {
    const ohm_m = value.log10Resistivity[k]!.map((v) => 10 ** v);
    return {
      slice: `${slice.top_m.toFixed(1)}–${slice.base_m.toFixed(1)}`,
      reliable: slice.reliable ? "yes" : "no",
      apart: slice.toldApart === false ? "no" : "yes",
      p10: quantile(ohm_m, 0.1),
      median: quantile(ohm_m, 0.5),
      p90: quantile(ohm_m, 0.9),
      factor: 10 ** (Z_80 * quantile(value.sd[k]!, 0.5)),
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

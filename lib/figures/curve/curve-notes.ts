import { placeFlags } from "../flags.js";
import { rounded, significant } from "../numbers.js";
import { fontSizes, greys } from "../theme.js";
import type { CurveLayout, CurvePlot } from "./curve-types.js";

type Json = Readonly<Record<string, unknown>>;

/** Set-aside bands behind a plot's data, and marks with all texts before them. */
export function curveNotes(
  plot: CurvePlot,
  x: (field: string) => Json,
  layout: CurveLayout,
): { readonly behind: readonly Json[]; readonly before: readonly Json[] } {
  const bandTexts = (plot.setAside ?? []).map(({ from, to, text }) => ({
    at: (from + to) / 2,
    text,
  }));
  const texts = flags([...bandTexts, ...(plot.marks ?? [])], x, layout);
  return { behind: bands(plot, x, layout), before: [...marks(plot, x, layout), ...texts] };
}

function bands(plot: CurvePlot, x: (field: string) => Json, layout: CurveLayout): readonly Json[] {
  if (plot.setAside === undefined || plot.setAside.length === 0) return [];
  const at = (value: number) =>
    layout.figure.x.scale === "time" ? value * 1000 : significant(value, 6);
  const values = plot.setAside.map(({ from, to, text }) => ({ a: at(from), b: at(to), t: text }));
  return [
    {
      data: { values },
      mark: { type: "rect", color: greys.band, clip: true },
      encoding: { x: x("a"), x2: { field: "b" }, tooltip: [{ field: "t", title: "Set aside" }] },
    },
  ];
}

function marks(plot: CurvePlot, x: (field: string) => Json, layout: CurveLayout): readonly Json[] {
  if (plot.marks === undefined || plot.marks.length === 0) return [];
  const scale = layout.figure.x.scale === "time" ? 1000 : 1;
  const values = plot.marks.map(({ at, text }) => ({ at: at * scale, t: text }));
  return [
    {
      data: { values },
      mark: { type: "rule", color: greys.text, strokeDash: [4, 3] },
      encoding: { x: x("at"), tooltip: [{ field: "t", title: "Mark" }] },
    },
  ];
}

/** Texts inside the plot, from its top downward, each beside its own rule. */
function flags(
  items: readonly { readonly at: number; readonly text: string }[],
  x: (field: string) => Json,
  layout: CurveLayout,
): readonly Json[] {
  const [from, to] = layout.xDomain;
  const scale = layout.figure.x.scale === "time" ? 1000 : 1;
  const unitsPer_px = (to - from) / layout.width_px;
  const placed = placeFlags(items, {
    unitsPer_px,
    size_px: fontSizes.note,
    letters: 24,
    gap_px: 7,
  });
  return [...new Set(placed.map(({ row }) => row))].map((row) => ({
    data: {
      values: placed
        .filter((flag) => flag.row === row)
        .map((flag) => ({ at: (rounded(flag.at, 4) ?? 0) * scale, t: flag.text })),
    },
    mark: {
      type: "text",
      align: "left",
      baseline: "top",
      dx: 3,
      y: 3 + row * 13,
      color: greys.quiet,
    },
    encoding: { x: x("at"), text: { field: "t" } },
  }));
}

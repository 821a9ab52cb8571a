import { valueScale } from "../axes.js";
import { legendShown } from "../legend.js";
import { rounded, significant } from "../numbers.js";
import { classColours } from "../theme.js";
import type { DrawnPanel, PanelFrame } from "./strip-frame.js";
import type { PointsPanel } from "./strip-types.js";

type Json = Readonly<Record<string, unknown>>;

export function pointsLayers(panel: PointsPanel, { x, height_px }: PanelFrame): DrawnPanel {
  const values = rows(panel);
  const arrays = ["v", "lo", "hi"].map((field) =>
    values.map((row) => (row[field] ?? Number.NaN) as number),
  );
  const { axis, ...scaled } = valueScale(arrays, {
    scale: panel.scale,
    length_px: height_px,
    ...(panel.domain && { domain: panel.domain }),
  });
  const y = {
    type: "quantitative",
    ...scaled,
    axis: { title: null, ...(axis as Json) },
  };
  const shared = { x: x("m"), color: colour(panel) };
  const layers = [
    {
      transform: [{ filter: "isValid(datum.lo)" }],
      mark: { type: "rule", clip: true },
      encoding: { ...shared, y: { field: "lo", ...y }, y2: { field: "hi" } },
    },
    {
      mark: { type: "point", filled: true, size: 34, opacity: 1, clip: true },
      encoding: { ...shared, y: { field: "v", ...y }, tooltip: tooltip(panel) },
    },
  ];
  return { data: values, layers };
}

function rows(panel: PointsPanel): readonly Json[] {
  const drawable = (y: number) => (panel.scale === "log" ? y > 0 : Number.isFinite(y));
  return panel.points
    .filter(({ y }) => drawable(y))
    .map(({ x_m, y, lo, hi, group, text }) => ({
      m: rounded(x_m),
      v: significant(y),
      g: group,
      t: text ?? "",
      ...(lo !== undefined && hi !== undefined && { lo: significant(lo), hi: significant(hi) }),
    }));
}

function colour(panel: PointsPanel): Json {
  const groups = [...new Set(panel.points.map(({ group }) => group))];
  const range = groups.map((_, i) => classColours[i % classColours.length]);
  const shown = legendShown(panel.legend, groups.length);
  const legend = shown ? { title: panel.legend ?? null, symbolType: "circle" } : null;
  return { field: "g", type: "nominal", scale: { domain: groups, range }, legend };
}

function tooltip(panel: PointsPanel): readonly Json[] {
  return [
    { field: "t", title: "What" },
    { field: "g", title: panel.legend ?? "Group" },
    { field: "m", title: "Chainage (m)" },
    { field: "v", title: panel.label },
  ];
}

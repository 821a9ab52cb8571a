import { valuePositions } from "../axes.js";
import { legendShown } from "../legend.js";
import { rounded, significant } from "../numbers.js";
import type { Colour, Encoding, Layer, Tooltip } from "../spec.js";
import { coloursOf } from "../theme.js";
import type { DrawnPanel, PanelFrame } from "./frame.js";
import type { PointsPanel } from "./types.js";

export function pointsLayers(panel: PointsPanel, { x, height_px }: PanelFrame): DrawnPanel {
  const data = rows(panel);
  const arrays = (["v", "lo", "hi"] as const).map((field) =>
    data.map((row) => row[field] ?? Number.NaN),
  );
  const y = valuePositions(arrays, {
    ...{ scale: panel.scale, domain: panel.domain, title: null },
    length_px: height_px,
  });
  const shared: Encoding = { x: x("m"), color: colour(panel) };
  const layers: Layer[] = [
    {
      transform: [{ filter: "isValid(datum.lo)" }],
      mark: { type: "rule", clip: true },
      encoding: { ...shared, y: y("lo"), y2: { field: "hi" } },
    },
    {
      mark: { type: "point", filled: true, size: 34, opacity: 1, clip: true },
      encoding: { ...shared, y: y("v"), tooltip: tooltip(panel) },
    },
  ];
  return { data, layers };
}

type PointRow = {
  readonly m: number | null;
  readonly v: number | null;
  readonly g: string;
  readonly t: string;
  readonly lo?: number | null;
  readonly hi?: number | null;
};

function rows(panel: PointsPanel): readonly PointRow[] {
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

function colour(panel: PointsPanel): Colour {
  const groups = [...new Set(panel.points.map(({ group }) => group))];
  const shown = legendShown(panel.legend, groups.length);
  const legend = shown ? { title: panel.legend ?? null, symbolType: "circle" } : null;
  const scale = { domain: groups, range: coloursOf(groups) };
  return { field: "g", type: "nominal", scale, legend };
}

function tooltip(panel: PointsPanel): Tooltip {
  return [
    { field: "t", title: "What" },
    { field: "g", title: panel.legend ?? "Group" },
    { field: "m", title: "Chainage (m)" },
    { field: "v", title: panel.label },
  ];
}

import { rounded } from "../numbers.js";
import type { Layer, Row } from "../spec.js";
import { textWidth } from "../text.js";
import { fontSizes, greys } from "../theme.js";
import { type DepthFrame, height_px } from "./frame.js";
import type { ColumnPanel } from "./types.js";

interface ColumnFrame {
  readonly frame: DepthFrame;
  readonly width: number;
}

export function columnLayers(panel: ColumnPanel, { frame, width }: ColumnFrame): readonly Layer[] {
  const values = panel.layers
    .filter(({ top_m }) => top_m < frame.base_m)
    .map((layer, i) => ({ ...row(layer, { frame, width }), k: tint(i) }));
  return [
    {
      data: { values },
      mark: {
        ...{ type: "rect", x: 0, x2: width, stroke: greys.rule, strokeWidth: 0.75 },
        strokeOpacity: 1,
      },
      encoding: {
        y: frame.y("u"),
        y2: { field: "l" },
        fill: { field: "k", type: "nominal", scale: null },
        tooltip: [
          { field: "t", title: panel.label },
          { field: "u", title: "From (m)" },
          { field: "l", title: "To (m)" },
        ],
      },
    },
    {
      data: { values },
      mark: { type: "text", x: width / 2, baseline: "middle", color: greys.text },
      encoding: { y: frame.y("m"), text: { field: "s" } },
    },
  ];
}

function row(layer: ColumnPanel["layers"][number], { frame, width }: ColumnFrame): Row {
  const base = Math.min(layer.base_m, frame.base_m);
  const room_px = ((base - layer.top_m) / frame.base_m) * height_px;
  return {
    u: rounded(layer.top_m, 2),
    l: rounded(base, 2),
    m: rounded((layer.top_m + base) / 2, 3),
    t: layer.text,
    s: room_px < 13 ? "" : fitting([layer.text, layer.short], width - 8),
  };
}

/** Two pale tints in turn part neighbours; they stand for no soil. */
function tint(place: number): string {
  return place % 2 === 0 ? "#f1efe9" : "#e3dfd5";
}

function fitting(texts: readonly string[], room_px: number): string {
  return texts.find((text) => textWidth(text, fontSizes.note) <= room_px) ?? "";
}

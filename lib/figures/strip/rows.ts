import { rounded } from "../numbers.js";
import type { Colour, Layer, Mark, Position, Tooltip } from "../spec.js";
import { fontSizes, greys } from "../theme.js";
import type { DrawnPanel, PanelFrame } from "./frame.js";
import type { RowsPanel } from "./types.js";

const rowHeight_px = 16;

export function rowsHeight_px({ rows, colours }: RowsPanel): number {
  const legend = 17 * Object.keys(colours).length + 24;
  return Math.max(legend, rowHeight_px * Math.max(1, rows.length));
}

export function rowsLayers(panel: RowsPanel, { x }: PanelFrame): DrawnPanel {
  const y = rowPosition(panel);
  const notes = panel.rows.map(({ name, note }) => ({ n: name, t: note ?? "" }));
  const data = panel.rows.flatMap(({ name, stretches }) =>
    stretches.map(({ from_m, to_m, group }) => ({
      ...{ n: name, a: rounded(from_m), b: rounded(to_m), g: group },
    })),
  );
  const layers: Layer[] = [
    {
      mark: { type: "rect", clip: true },
      encoding: {
        ...{ x: x("a"), x2: { field: "b" }, y },
        color: colour(panel),
        tooltip: tooltip(panel),
      },
    },
    {
      data: { values: notes },
      mark: { type: "text", x: "width", dx: 8, align: "left", color: greys.text },
      encoding: { y, text: { field: "t" } },
    },
    heading(panel.nameLabel, { x: 0, dx: -6, align: "right" }),
    heading(panel.noteLabel, { x: "width", dx: 8, align: "left" }),
  ];
  return { data, layers };
}

function rowPosition({ rows }: RowsPanel): Position {
  const names = rows.map(({ name }) => name);
  return {
    field: "n",
    type: "nominal",
    sort: names,
    scale: { domain: names, paddingInner: 0.2, paddingOuter: 0.1 },
    axis: {
      title: null,
      domain: false,
      ticks: false,
      grid: true,
      zindex: 0,
      labelLimit: 260,
      labelPadding: 6,
      labelColor: greys.text,
    },
  };
}

function heading(text = "", place: Omit<Mark, "type">): Layer {
  const look = { type: "text", y: -12, fontSize: fontSizes.note, color: greys.quiet } as const;
  return { data: { values: [{}] }, mark: { ...look, ...place, text }, encoding: {} };
}

function colour({ colours, legend }: RowsPanel): Colour {
  const scale = { domain: Object.keys(colours), range: Object.values(colours) };
  const squares = { symbolType: "square", symbolStrokeWidth: 0, symbolSize: 130, offset: 54 };
  return { field: "g", type: "nominal", scale, legend: { title: legend, ...squares } };
}

function tooltip({ legend }: RowsPanel): Tooltip {
  return [
    { field: "n", title: "Row" },
    { field: "g", title: legend },
    { field: "a", title: "From (m)" },
    { field: "b", title: "To (m)" },
  ];
}

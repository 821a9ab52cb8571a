import { rounded } from "../numbers.js";
import { fontSizes, greys } from "../theme.js";
import type { DrawnPanel, PanelFrame } from "./strip-frame.js";
import type { RowsPanel } from "./strip-types.js";

type Json = Readonly<Record<string, unknown>>;

const rowHeight_px = 16;

export function rowsHeight_px({ rows, colours }: RowsPanel): number {
  const legend = 17 * Object.keys(colours).length + 24;
  return Math.max(legend, rowHeight_px * Math.max(1, rows.length));
}

export function rowsLayers(panel: RowsPanel, { x }: PanelFrame): DrawnPanel {
  const names = panel.rows.map(({ name }) => name);
  const y = (paddingInner: number): Json => ({
    field: "n",
    type: "nominal",
    sort: names,
    scale: { domain: names, paddingInner, paddingOuter: 0.1 },
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
  });
  const notes = panel.rows.map(({ name, note }) => ({ n: name, t: note ?? "" }));
  return {
    data: panel.rows.flatMap(({ name, stretches }) =>
      stretches.map(({ from_m, to_m, group }) => ({
        n: name,
        a: rounded(from_m),
        b: rounded(to_m),
        g: group,
      })),
    ),
    layers: [
      {
        mark: { type: "rect", clip: true },
        encoding: {
          x: x("a"),
          x2: { field: "b" },
          y: y(0.2),
          color: colour(panel),
          tooltip: tooltip(panel),
        },
      },
      {
        data: { values: notes },
        mark: { type: "text", x: "width", dx: 8, align: "left", color: greys.text },
        encoding: { y: y(0.2), text: { field: "t" } },
      },
      heading(panel.nameLabel, { x: 0, dx: -6, align: "right" }),
      heading(panel.noteLabel, { x: "width", dx: 8, align: "left" }),
    ],
  };
}

function heading(text: string | undefined, place: Json): Json {
  const look = { type: "text", y: -12, fontSize: fontSizes.note, color: greys.quiet };
  return { data: { values: [{}] }, mark: { ...look, ...place, text: text ?? "" }, encoding: {} };
}

function colour({ colours, legend }: RowsPanel): Json {
  const scale = { domain: Object.keys(colours), range: Object.values(colours) };
  const squares = { symbolType: "square", symbolStrokeWidth: 0, symbolSize: 130, offset: 54 };
  return { field: "g", type: "nominal", scale, legend: { title: legend, ...squares } };
}

function tooltip({ legend }: RowsPanel): readonly Json[] {
  return [
    { field: "n", title: "Row" },
    { field: "g", title: legend },
    { field: "a", title: "From (m)" },
    { field: "b", title: "To (m)" },
  ];
}

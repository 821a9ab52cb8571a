import type { VegaLiteSpec } from "../../step/figure.js";
import { haloed } from "../halo.js";
import { placeLabels } from "../labels.js";
import { rounded } from "../numbers.js";
import { classColours, fontSizes, greys, theme } from "../theme.js";
import { titleBlock } from "../title.js";
import { planAxes, planVertices } from "./plan-axes.js";
import { onPaper, type PlanFrame, planFrame } from "./plan-frame.js";
import { planFurniture } from "./plan-furniture.js";
import type { PlanLine, PlanMap } from "./plan-map-types.js";
import { stretchLayers } from "./plan-stretches.js";

type Json = Readonly<Record<string, unknown>>;

export function composePlanMap(map: PlanMap): VegaLiteSpec {
  const frame = planFrame(map);
  return {
    $schema: "https://vega.github.io/schema/vega-lite/v5.json",
    title: titleBlock(map, frame.width_px),
    config: theme,
    width: frame.width_px,
    height: frame.height_px,
    layer: [
      ...stretchLayers(map, frame),
      ...lineLayers(map, frame),
      ...pointLayers(map, frame),
      ...labelLayers(map, frame),
      ...planFurniture(frame),
    ],
  };
}

const dashes = [
  [1, 0],
  [6, 3],
  [2, 2],
  [8, 3, 2, 3],
];

function lineLayers(map: PlanMap, frame: PlanFrame): readonly Json[] {
  if (map.lines.length === 0) return [];
  const values = map.lines.flatMap((line) =>
    planVertices(line, frame).map((vertex) => ({ ...vertex, s: line.name })),
  );
  const names = map.lines.map(({ name }) => name);
  const range = names.map((_, i) => dashes[i % dashes.length]!);
  const legend = { title: "Lines", symbolType: "stroke", symbolStrokeColor: greys.text };
  return [
    {
      data: { values },
      mark: { type: "line", color: greys.text, strokeWidth: 1.2, clip: true },
      encoding: {
        ...planAxes(map, frame),
        order: { field: "i", type: "quantitative" },
        detail: { field: "r" },
        strokeDash: { field: "s", type: "nominal", scale: { domain: names, range }, legend },
      },
    },
  ];
}

const shapes = ["circle", "triangle-up", "square", "diamond", "cross", "triangle-down"];

function pointLayers(map: PlanMap, frame: PlanFrame): readonly Json[] {
  const points = map.points ?? [];
  if (points.length === 0) return [];
  const kinds = [...new Set(points.map(({ kind }) => kind))];
  const values = points.map(({ easting_m, northing_m, name, kind }) => ({
    e: rounded(easting_m - frame.origin[0]),
    n: rounded(northing_m - frame.origin[1]),
    t: name,
    k: kind,
  }));
  const range = kinds.map((_, i) => shapes[i % shapes.length]!);
  const colours = kinds.map((_, i) => classColours[(i + 1) % classColours.length]!);
  const legend = { title: "Points", symbolStrokeWidth: 0 };
  return [
    {
      data: { values },
      mark: { type: "point", filled: true, size: 80, opacity: 1, strokeWidth: 0 },
      encoding: {
        ...planAxes(map, frame),
        shape: { field: "k", type: "nominal", scale: { domain: kinds, range }, legend },
        fill: { field: "k", type: "nominal", scale: { domain: kinds, range: colours }, legend },
        tooltip: [
          { field: "t", title: "Name" },
          { field: "k", title: "Kind" },
        ],
      },
    },
  ];
}

function labelLayers(map: PlanMap, frame: PlanFrame): readonly Json[] {
  const wish = (east: number, north: number, text: string) => {
    const [x, y] = onPaper(frame, east, north);
    return { x, y, text };
  };
  const names = (map.points ?? []).map((p) => wish(p.easting_m, p.northing_m, p.name));
  const ticks = (map.ticks ?? []).map((t) => wish(t.easting_m, t.northing_m, t.text));
  const space = {
    width_px: frame.width_px,
    height_px: frame.height_px,
    size_px: fontSizes.note,
    distance_px: 6,
    obstacles: obstacles(map, frame),
  };
  const placed = placeLabels([...names, ...ticks], space);
  if (placed.length === 0) return [];
  const own = new Set(names.map(({ text }) => text));
  const values = placed.map(({ left, middle, text }) => ({
    px: rounded(left),
    py: rounded(middle),
    t: text,
    ink: own.has(text) ? greys.text : greys.quiet,
  }));
  return [...tickLayer(map, frame), ...textLayers(values)];
}

function textLayers(values: readonly Json[]): readonly Json[] {
  const encoding = {
    x: { field: "px", type: "quantitative", scale: null, axis: null },
    y: { field: "py", type: "quantitative", scale: null, axis: null },
    text: { field: "t" },
    fill: { field: "ink", type: "nominal", scale: null },
  };
  return haloed({ align: "left", baseline: "middle" }, { data: { values }, encoding });
}

function tickLayer(map: PlanMap, frame: PlanFrame): readonly Json[] {
  const values = (map.ticks ?? []).map(({ easting_m, northing_m }) => ({
    e: rounded(easting_m - frame.origin[0]),
    n: rounded(northing_m - frame.origin[1]),
  }));
  if (values.length === 0) return [];
  const mark = { type: "point", filled: true, size: 18, color: greys.text, opacity: 1 };
  return [{ data: { values }, mark, encoding: planAxes(map, frame) }];
}

function obstacles(map: PlanMap, frame: PlanFrame): readonly (readonly [number, number])[] {
  const vertices = [...map.lines, ...(map.stretches ?? [])].flatMap((line) => dense(line, frame));
  const points = (map.points ?? []).map((p) => onPaper(frame, p.easting_m, p.northing_m));
  return [...vertices, ...points];
}

/** Points every few pixels along a line. */
function dense(
  line: Pick<PlanLine, "easting_m" | "northing_m">,
  frame: PlanFrame,
): readonly (readonly [number, number])[] {
  const out: (readonly [number, number])[] = [];
  for (let i = 1; i < line.easting_m.length; i++) {
    const a = onPaper(frame, line.easting_m[i - 1]!, line.northing_m[i - 1]!);
    const b = onPaper(frame, line.easting_m[i]!, line.northing_m[i]!);
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (!Number.isFinite(length)) continue;
    const pieces = Math.max(1, Math.ceil(length / 6));
    for (let k = 0; k < pieces; k++) {
      out.push([a[0] + ((b[0] - a[0]) * k) / pieces, a[1] + ((b[1] - a[1]) * k) / pieces]);
    }
  }
  return out;
}

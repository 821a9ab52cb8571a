import { itemAt } from "../../numerics/arrays.js";
import type { VegaLiteSpec } from "../../step/figure.js";
import { rounded } from "../numbers.js";
import { type Encoding, figureSpec, type Layer } from "../spec.js";
import { coloursOf, greys } from "../theme.js";
import { planAxes, planVertices } from "./axes.js";
import { type PlanFrame, planFrame } from "./frame.js";
import { planFurniture } from "./furniture.js";
import { labelLayers } from "./labels.js";
import { stretchLayers } from "./stretches.js";
import type { PlanMap } from "./types.js";

export type { PlanLine, PlanMap, PlanPoint, PlanStretch, PlanTick } from "./types.js";

/**
 * A plan of lines, coloured stretches and named points, as a Vega-Lite 5 specification. One metre
 * east is as long as one metre north. Coordinates are drawn from an origin, rounded to 100 m, that
 * the axes state; grid north is up, and an arrow says so. Names that would overlap are left to the
 * tooltip.
 *
 * @param map what to draw; coordinates in m of one projection
 * @returns plain JSON
 */
export function planMapSpec(map: PlanMap): VegaLiteSpec {
  const frame = planFrame(map);
  return figureSpec(map, frame.width_px, {
    width: frame.width_px,
    height: frame.height_px,
    layer: [
      ...stretchLayers(map, frame),
      ...lineLayers(map, frame),
      ...pointLayers(map, frame),
      ...labelLayers(map, frame),
      ...planFurniture(frame),
    ],
  });
}

const dashes: readonly number[][] = [
  [1, 0],
  [6, 3],
  [2, 2],
  [8, 3, 2, 3],
];

function lineLayers(map: PlanMap, frame: PlanFrame): readonly Layer[] {
  if (map.lines.length === 0) return [];
  const values = map.lines.flatMap((line) =>
    planVertices(line, frame).map((vertex) => ({ ...vertex, s: line.name })),
  );
  const names = map.lines.map(({ name }) => name);
  const range = names.map((_, i) => itemAt(dashes, i % dashes.length));
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

/** A point stands out from the line that it lies on. */
const OUTLINE = { stroke: "#ffffff", strokeWidth: 1 } as const;

const shapes = ["circle", "triangle-up", "square", "diamond", "cross", "triangle-down"];

function pointLayers(map: PlanMap, frame: PlanFrame): readonly Layer[] {
  const points = map.points ?? [];
  if (points.length === 0) return [];
  const kinds = [...new Set(points.map(({ kind }) => kind))];
  const values = points.map(({ easting_m, northing_m, name, kind }) => ({
    e: rounded(easting_m - frame.origin[0]),
    n: rounded(northing_m - frame.origin[1]),
    t: name,
    k: kind,
  }));
  const marks = kinds.map((_, i) => itemAt(shapes, i % shapes.length));
  // Colours of classes mean classes: beside them points differ by shape alone.
  const hasClasses = map.stretches?.some(({ group }) => group !== undefined) ?? false;
  const colours = hasClasses ? kinds.map(() => greys.text) : coloursOf(["", ...kinds]).slice(1);
  const legend = { title: "Points", symbolStrokeWidth: 0 };
  const encoding: Encoding = {
    ...planAxes(map, frame),
    shape: { field: "k", type: "nominal", scale: { domain: kinds, range: marks }, legend },
    fill: { field: "k", type: "nominal", scale: { domain: kinds, range: colours }, legend },
    tooltip: [
      { field: "t", title: "Name" },
      { field: "k", title: "Kind" },
    ],
  };
  const mark = { type: "point", filled: true, size: 90, opacity: 1, ...OUTLINE } as const;
  return [{ data: { values }, mark, encoding }];
}

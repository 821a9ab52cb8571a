import { neighbours } from "../../numerics/arrays.js";
import { haloed } from "../halo.js";
import { placeLabels } from "../labels.js";
import { rounded } from "../numbers.js";
import type { Encoding, Layer } from "../spec.js";
import { fontSizes, greys } from "../theme.js";
import { planAxes } from "./axes.js";
import { onPaper, type PlanFrame, type PlanPlace } from "./frame.js";
import type { PlanLine, PlanMap } from "./types.js";

/** Names of the points and chainages of the ticks, where they keep clear of what is drawn. */
export function labelLayers(map: PlanMap, frame: PlanFrame): readonly Layer[] {
  const { points = [], ticks = [] } = map;
  const wish = (place: PlanPlace, text: string) => {
    const [x, y] = onPaper(frame, place);
    return { x, y, text };
  };
  const names = points.map((point) => wish(point, point.name));
  const placed = placeLabels([...names, ...ticks.map((tick) => wish(tick, tick.text))], {
    width_px: frame.width_px,
    height_px: frame.height_px,
    size_px: fontSizes.note,
    distance_px: 6,
    obstacles: obstacles(map, frame),
  });
  if (placed.length === 0) return [];
  const own = new Set(names.map(({ text }) => text));
  const values = placed.map(({ left, middle, text }) => ({
    px: rounded(left),
    py: rounded(middle),
    t: text,
    ink: own.has(text) ? greys.text : greys.quiet,
  }));
  const encoding: Encoding = {
    x: { field: "px", type: "quantitative", scale: null, axis: null },
    y: { field: "py", type: "quantitative", scale: null, axis: null },
    text: { field: "t" },
    fill: { field: "ink", type: "nominal", scale: null },
  };
  const texts = haloed({ align: "left", baseline: "middle" }, { data: { values }, encoding });
  return [...tickLayer(map, frame), ...texts];
}

function tickLayer(map: PlanMap, frame: PlanFrame): readonly Layer[] {
  const values = (map.ticks ?? []).map(({ easting_m, northing_m }) => ({
    e: rounded(easting_m - frame.origin[0]),
    n: rounded(northing_m - frame.origin[1]),
  }));
  if (values.length === 0) return [];
  const mark = { type: "point", filled: true, size: 18, color: greys.text, opacity: 1 } as const;
  return [{ data: { values }, mark, encoding: planAxes(map, frame) }];
}

type Point = readonly [number, number];

function obstacles(map: PlanMap, frame: PlanFrame): readonly Point[] {
  const vertices = [...map.lines, ...(map.stretches ?? [])].flatMap((line) => dense(line, frame));
  return [...vertices, ...(map.points ?? []).map((point) => onPaper(frame, point))];
}

/** Points every few pixels along a line. */
function dense(
  { easting_m, northing_m }: Pick<PlanLine, "easting_m" | "northing_m">,
  frame: PlanFrame,
): readonly Point[] {
  const vertices = Array.from(easting_m, (east, i) =>
    onPaper(frame, { easting_m: east, northing_m: northing_m[i] ?? Number.NaN }),
  );
  return neighbours(vertices).flatMap(([a, b]) => {
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (!Number.isFinite(length)) return [];
    const pieces = Math.max(1, Math.ceil(length / 6));
    return Array.from(
      { length: pieces },
      (_, k): Point => [a[0] + ((b[0] - a[0]) * k) / pieces, a[1] + ((b[1] - a[1]) * k) / pieces],
    );
  });
}

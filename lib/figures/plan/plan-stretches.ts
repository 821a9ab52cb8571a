import { logTicks } from "../axes.js";
import { rampColour } from "../colour.js";
import { logDomain, significant } from "../numbers.js";
import { classColours, resistivityRamp } from "../theme.js";
import { planAxes, planVertices } from "./plan-axes.js";
import type { PlanFrame } from "./plan-frame.js";
import type { PlanMap, PlanStretch } from "./plan-map-types.js";

type Json = Readonly<Record<string, unknown>>;

export function stretchLayers(map: PlanMap, frame: PlanFrame): readonly Json[] {
  const stretches = map.stretches ?? [];
  const grouped = stretches.filter(({ group }) => group !== undefined);
  const valued = stretches.filter(({ value }) => value !== undefined && value > 0);
  return [...groupLayer(grouped, map, frame), ...valueLayers(valued, map, frame)];
}

function groupLayer(
  stretches: readonly PlanStretch[],
  map: PlanMap,
  frame: PlanFrame,
): readonly Json[] {
  if (stretches.length === 0) return [];
  const groups = [...new Set(stretches.map(({ group }) => group!))].sort();
  const range = groups.map(
    (group, i) => map.colours?.[group] ?? classColours[i % classColours.length]!,
  );
  const legend = { title: map.legend ?? null, symbolType: "stroke" };
  const color = { field: "g", type: "nominal", scale: { domain: groups, range }, legend };
  return [lineLayer(stretches, { map, frame, color })];
}

function valueLayers(
  stretches: readonly PlanStretch[],
  map: PlanMap,
  frame: PlanFrame,
): readonly Json[] {
  if (stretches.length === 0) return [];
  const domain = logDomain([stretches.map(({ value }) => value!)]);
  const stroke = { field: "k", type: "nominal", scale: null };
  const ramp = (value: number) =>
    rampColour(resistivityRamp, Math.log(value / domain[0]) / Math.log(domain[1] / domain[0]));
  return [
    lineLayer(stretches, { map, frame, color: null, stroke, ramp }),
    legendLayer(map, frame, domain),
  ];
}

interface Drawing {
  readonly map: PlanMap;
  readonly frame: PlanFrame;
  readonly color: Json | null;
  readonly stroke?: Json;
  readonly ramp?: (value: number) => string;
}

function lineLayer(
  stretches: readonly PlanStretch[],
  { map, frame, color, stroke, ramp }: Drawing,
): Json {
  const values = stretches.flatMap((stretch, at) =>
    planVertices(stretch, frame).map((vertex) => ({
      ...vertex,
      d: at,
      t: stretch.text,
      ...(stretch.group !== undefined && { g: stretch.group }),
      ...(stretch.value !== undefined && {
        v: significant(stretch.value, 3),
        k: ramp?.(stretch.value),
      }),
    })),
  );
  return {
    data: { values },
    mark: { type: "line", style: "stretch", strokeWidth: 7, strokeCap: "butt", clip: true },
    encoding: {
      ...planAxes(map, frame),
      order: { field: "i", type: "quantitative" },
      detail: [{ field: "d" }, { field: "r" }],
      ...(color && { color }),
      ...(stroke && { stroke }),
      tooltip: [
        { field: "t", title: "Stretch" },
        ...(ramp ? [{ field: "v", title: map.unit ?? "Value" }] : []),
      ],
    },
  };
}

function legendLayer(map: PlanMap, frame: PlanFrame, domain: readonly [number, number]): Json {
  const stops = resistivityRamp.length - 1;
  const steps = resistivityRamp.map((_, i) => domain[0] * (domain[1] / domain[0]) ** (i / stops));
  const scale = {
    type: "log",
    domain: steps.map((s) => significant(s, 6)),
    range: [...resistivityRamp],
  };
  const legend = {
    title: map.unit ?? null,
    values: logTicks(domain),
    format: "~g",
    gradientLength: 100,
    gradientThickness: 12,
    gradientOpacity: 1,
  };
  return {
    data: { values: [{ e: null, n: null, v: domain[0] }] },
    mark: { type: "point", filled: true, opacity: 0 },
    encoding: {
      ...planAxes(map, frame),
      color: { field: "v", type: "quantitative", scale, legend },
    },
  };
}

import { rampColour } from "../colour.js";
import { rampLegend } from "../legend.js";
import { logDomain, significant } from "../numbers.js";
import type { Encoding, Layer } from "../spec.js";
import { coloursOf, resistivityRamp } from "../theme.js";
import { planAxes, planVertices } from "./axes.js";
import type { PlanFrame } from "./frame.js";
import type { PlanMap, PlanStretch } from "./types.js";

export function stretchLayers(map: PlanMap, frame: PlanFrame): readonly Layer[] {
  const stretches = map.stretches ?? [];
  return [
    ...groupLayer(stretches.filter(hasGroup), map, frame),
    ...valueLayers(stretches.filter(hasValue), map, frame),
  ];
}

type Grouped = PlanStretch & { readonly group: string };
type Valued = PlanStretch & { readonly value: number };

const hasGroup = (stretch: PlanStretch): stretch is Grouped => stretch.group !== undefined;
const hasValue = (stretch: PlanStretch): stretch is Valued => (stretch.value ?? 0) > 0;

function groupLayer(
  stretches: readonly Grouped[],
  map: PlanMap,
  frame: PlanFrame,
): readonly Layer[] {
  if (stretches.length === 0) return [];
  const domain = [...new Set(stretches.map(({ group }) => group))].sort();
  const scale = { domain, range: coloursOf(domain, map.colours) };
  const legend = { title: map.legend ?? null, symbolType: "stroke" };
  const encoding: Encoding = {
    ...lineEncoding(map, frame),
    color: { field: "g", type: "nominal", scale, legend },
    tooltip: [{ field: "t", title: "Stretch" }],
  };
  const values = vertices(stretches, frame, ({ group }) => ({ g: group }));
  return [{ data: { values }, mark, encoding }];
}

function valueLayers(
  stretches: readonly Valued[],
  map: PlanMap,
  frame: PlanFrame,
): readonly Layer[] {
  if (stretches.length === 0) return [];
  const domain = logDomain([stretches.map(({ value }) => value)]);
  const ramp = (value: number) =>
    rampColour(resistivityRamp, Math.log(value / domain[0]) / Math.log(domain[1] / domain[0]));
  const encoding: Encoding = {
    ...lineEncoding(map, frame),
    stroke: { field: "k", type: "nominal", scale: null },
    tooltip: [
      { field: "t", title: "Stretch" },
      { field: "v", title: map.unit ?? "Value" },
    ],
  };
  const values = vertices(stretches, frame, ({ group, value }) => ({
    ...(group !== undefined && { g: group }),
    ...{ v: significant(value, 3), k: ramp(value) },
  }));
  return [{ data: { values }, mark, encoding }, legendLayer(map, frame, domain)];
}

const look = { strokeWidth: 7, strokeCap: "butt", clip: true } as const;
const mark = { type: "line", style: "stretch", ...look } as const;

function lineEncoding(map: PlanMap, frame: PlanFrame): Encoding {
  return {
    ...planAxes(map, frame),
    order: { field: "i", type: "quantitative" },
    detail: [{ field: "d" }, { field: "r" }],
  };
}

function vertices<Stretch extends PlanStretch>(
  stretches: readonly Stretch[],
  frame: PlanFrame,
  more: (stretch: Stretch) => object,
): readonly object[] {
  return stretches.flatMap((stretch, d) =>
    planVertices(stretch, frame).map((vertex) => ({
      ...vertex,
      ...{ d, t: stretch.text },
      ...more(stretch),
    })),
  );
}

function legendLayer(map: PlanMap, frame: PlanFrame, domain: readonly [number, number]): Layer {
  return {
    data: { values: [{ e: null, n: null, v: domain[0] }] },
    mark: { type: "point", filled: true, opacity: 0 },
    encoding: {
      ...planAxes(map, frame),
      color: rampLegend(domain, { title: map.unit ?? null, length_px: 100 }),
    },
  };
}

import { rounded } from "../../figures/numbers.js";
import { figureSpec, type Layer, type Position, type Row } from "../../figures/spec.js";
import { greys } from "../../figures/theme.js";
import { median } from "../../numerics/statistics/robust.js";
import type { Figure } from "../../step/figure.js";
import type { Quantiles } from "../hydraulics/judged-stretch.js";
import type { Seepage } from "../seepage.js";
import { zoneName } from "../words.js";

interface Bar extends Quantiles {
  readonly name: string;
  readonly kind: (typeof KINDS)[number];
}

const KINDS = ["zone", "stretch", "not told apart"] as const;
const COLOURS = ["#1f5a8c", "#7d8f9b", "#c3c7cb"];
const WIDTH_PX = 560;
/** More bars than this are no figure any more. */
const MOST_BARS = 24;

/** Exit gradients side by side: zones and stretches that are told apart, and the bank's own. */
export function gradientsFigure(value: Seepage): readonly Figure[] {
  const bars = barsOf(value);
  if (bars.length === 0) return [];
  const title = titleOf(value, bars);
  const critical = criticalOf(value);
  const y = {
    field: "n",
    type: "nominal" as const,
    sort: bars.map(({ name }) => name),
    axis: { title: null, domain: false, ticks: false, labelLimit: 240, labelPadding: 8 },
  };
  const ends = [
    0.5 * Math.min(...bars.map(({ p10 }) => p10)),
    1.5 * Math.max(...bars.map(({ p90 }) => p90)),
  ];
  const x = {
    field: "a",
    type: "quantitative" as const,
    scale: { type: "log" as const, domain: ends, nice: false },
    axis: { title: "Exit gradient at design water level", tickCount: 6 },
  };
  const spec = figureSpec({ title }, WIDTH_PX + 200, {
    width: WIDTH_PX,
    height: { step: 22 },
    data: { values: bars.map(rowOf) },
    layer: [...barLayers(x, y), criticalRule(critical)],
  });
  return [
    {
      id: "seepage-gradients",
      title,
      caption:
        "Bars hold 80 % of the draws, ticks are medians, on a log scale. The dashed rule is the median " +
        "critical gradient. A stretch without a bar of its own is not told from the bank as a whole.",
      spec,
    },
  ];
}

function barsOf({ zones, stretches }: Seepage): readonly Bar[] {
  const ofZones = zones.flatMap((zone): Bar[] =>
    zone.exitGradient === null
      ? []
      : [{ name: zoneName(zone), kind: "zone", ...zone.exitGradient }],
  );
  const told = stretches.flatMap((one): Bar[] => {
    const name = `${one.from_m.toFixed(0)}–${one.to_m.toFixed(0)} m`;
    return one.exitGradient === null ? [] : [{ name, kind: "stretch", ...one.exitGradient }];
  });
  const strongest = told
    .toSorted((one, other) => other.p50 - one.p50)
    .slice(0, Math.max(0, MOST_BARS - ofZones.length));
  const open = stretches.filter(({ exitGradient, hydraulics }) => hydraulics && !exitGradient);
  const middle = open[Math.floor(open.length / 2)]?.hydraulics?.exitGradient;
  const rest: Bar[] =
    middle === undefined
      ? []
      : [{ name: `${open.length} stretches, not told apart`, kind: "not told apart", ...middle }];
  return [...ofZones, ...strongest, ...rest];
}

function titleOf({ stretches }: Seepage, bars: readonly Bar[]): string {
  const told = bars.filter(({ kind }) => kind !== "not told apart");
  if (told.length === 0) return "The data tell no stretch's exit gradient from another's";
  const count = stretches.filter(({ exitGradient }) => exitGradient !== null).length;
  const highest = told.reduce((most, one) => (one.p50 > most.p50 ? one : most));
  return (
    `Data tell the exit gradient of ${count} of ${stretches.length} stretches apart; of those it is ` +
    `highest at ${highest.name} (median ${highest.p50.toFixed(2)})`
  );
}

function criticalOf({ stretches }: Seepage): number {
  return median(
    stretches.flatMap(({ hydraulics }) =>
      hydraulics === null ? [] : [hydraulics.safety.p50 * hydraulics.exitGradient.p50],
    ),
  );
}

function rowOf({ name, kind, p10, p50, p90 }: Bar): Row {
  return { n: name, k: kind, a: rounded(p10, 3), m: rounded(p50, 3), b: rounded(p90, 3) };
}

function barLayers(x: Position, y: Position): readonly Layer[] {
  const color = {
    field: "k",
    type: "nominal" as const,
    scale: { domain: [...KINDS], range: COLOURS },
    legend: { title: "Gradient of", symbolType: "square", symbolStrokeWidth: 0 },
  };
  return [
    { mark: { type: "bar", height: 12 }, encoding: { y, x, x2: { field: "b" }, color } },
    {
      mark: { type: "tick", color: greys.text, thickness: 2, height: 18 },
      encoding: { y, x: { field: "m", type: "quantitative" } },
    },
  ];
}

function criticalRule(critical: number): Layer {
  return {
    data: { values: [{ a: rounded(critical, 3) }] },
    mark: { type: "rule", color: greys.quiet, strokeDash: [5, 3] },
    encoding: { x: { field: "a", type: "quantitative" } },
  };
}

import { logTicks } from "../axes.js";
import { rampColour } from "../colour.js";
import { significant } from "../numbers.js";
import { resistivityRamp } from "../theme.js";
import { fadedColour } from "./cells.js";
import type { CellsPanel } from "./strip-types.js";

type Json = Readonly<Record<string, unknown>>;

interface Room {
  readonly domain: readonly [number, number];
  readonly height_px: number;
}

/** Unseen cells that carry the legends, because the drawn cells carry colours: the ramp, the fading. */
export function cellsLegends(panel: CellsPanel, room: Room, place: Json): readonly Json[] {
  const faded = panel.cells.some(({ confidence }) => (confidence ?? 1) < 0.95);
  if (panel.fading === undefined) {
    const title = faded ? [panel.unit, "(pale: uncertain)"] : panel.unit;
    return [ramp({ title, length_px: Math.max(60, room.height_px - 40) }, room.domain, place)];
  }
  const length_px = Math.max(60, room.height_px - 130);
  return [ramp({ title: panel.unit, length_px }, room.domain, place), fading(panel.fading, place)];
}

interface RampLegend {
  readonly title: string | readonly string[];
  readonly length_px: number;
}

function ramp(
  { title, length_px }: RampLegend,
  domain: readonly [number, number],
  place: Json,
): Json {
  const stops = resistivityRamp.length - 1;
  const steps = resistivityRamp.map((_, i) => domain[0] * (domain[1] / domain[0]) ** (i / stops));
  const scale = {
    type: "log",
    domain: steps.map((step) => significant(step, 6)),
    range: [...resistivityRamp],
  };
  const legend = {
    title,
    values: logTicks(domain),
    format: "~g",
    gradientLength: length_px,
    gradientThickness: 12,
    gradientOpacity: 1,
  };
  return {
    data: { values: [{ a: null, u: 0, v: domain[0] }] },
    mark: { type: "point", opacity: 0, filled: true },
    encoding: { ...place, fill: { field: "v", type: "quantitative", scale, legend } },
  };
}

/** Three squares of the ramp's middle: in full, half faded and faded. */
function fading(words: readonly [string, string, string], place: Json): Json {
  const middle = rampColour(resistivityRamp, 0.5);
  const scale = {
    domain: [...words],
    range: [1, 0.5, 0].map((confidence) => fadedColour(middle, confidence)),
  };
  const legend = {
    title: "Strength of the colour",
    symbolType: "square",
    symbolSize: 130,
    symbolStrokeWidth: 0,
    symbolOpacity: 1,
  };
  return {
    data: { values: words.map((w) => ({ a: null, u: 0, w })) },
    mark: { type: "point", opacity: 0, filled: true },
    encoding: { ...place, color: { field: "w", type: "nominal", scale, legend } },
  };
}

import { rampColour } from "../colour.js";
import { rampLegend } from "../legend.js";
import type { Encoding, Layer } from "../spec.js";
import { resistivityRamp } from "../theme.js";
import { fadedColour } from "./merged-cells.js";
import type { CellsPanel } from "./types.js";

interface LegendRoom {
  readonly domain: readonly [number, number];
  readonly height_px: number;
}

/**
 * Unseen points that carry the legends of the ramp and of the fading: cells have colours of their
 * own.
 */
export function cellsLegends(
  panel: CellsPanel,
  { domain, height_px }: LegendRoom,
  place: Encoding,
): readonly Layer[] {
  const faded = panel.cells.some(({ confidence }) => (confidence ?? 1) < 0.95);
  const remark = faded && panel.fading === undefined;
  const title = remark ? [panel.unit, "(pale: uncertain)"] : panel.unit;
  const length_px = Math.max(60, height_px - (panel.fading === undefined ? 40 : 130));
  const ramp: Layer = {
    data: { values: [{ a: null, u: 0, v: domain[0] }] },
    mark: { type: "point", opacity: 0, filled: true },
    encoding: { ...place, fill: rampLegend(domain, { title, length_px }) },
  };
  return panel.fading === undefined ? [ramp] : [ramp, fading(panel.fading, place)];
}

/** Three squares of the ramp's middle: in full, half faded and faded. */
function fading(words: readonly [string, string, string], place: Encoding): Layer {
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

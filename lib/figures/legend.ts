import { logTicks } from "./axes.js";
import type { Encoding } from "./spec.js";
import { resistivityRamp } from "./theme.js";

/**
 * A legend is shown where there is more than one entry or a heading; a blank heading is a no.
 */
export function legendShown(heading: string | undefined, entries: number): boolean {
  if (heading === "") return false;
  return entries > 1 || heading !== undefined;
}

/**
 * The resistivity ramp over a log scale with its legend, for one unseen point that carries it:
 * drawn marks have colours of their own.
 */
export function rampLegend(
  domain: readonly [number, number],
  legend: { readonly title: string | string[] | null; readonly length_px: number },
): Extract<Encoding["color"], { readonly legend?: unknown }> {
  const [from, to] = domain;
  const stops = resistivityRamp.length - 1;
  const steps = resistivityRamp.map((_, i) => from * (to / from) ** (i / stops));
  return {
    field: "v",
    type: "quantitative",
    scale: {
      type: "log",
      domain: steps.map((step) => Number(step.toPrecision(6))),
      range: [...resistivityRamp],
    },
    legend: {
      title: legend.title,
      values: logTicks(domain),
      format: "~g",
      gradientLength: legend.length_px,
      gradientThickness: 12,
      gradientOpacity: 1,
    },
  };
}

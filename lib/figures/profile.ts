import type { VegaLiteSpec } from "../step/figure.js";
import { curveSpec } from "./curve/curve.js";

/** Values of layers against depth. */
export interface ProfileFigure {
  readonly title: string;
  readonly subtitle?: string;
  /** With the unit: "Resistivity (ohm-m)". */
  readonly label: string;
  readonly profiles: readonly Profile[];
  /** Heading of the legend. */
  readonly legend?: string;
}

interface Profile {
  readonly name: string;
  /** k layers: tops, rising, and the base of the last one drawn, m. */
  readonly top_m: ArrayLike<number>;
  readonly base_m: number;
  /** k values above 0. */
  readonly value: ArrayLike<number>;
}

/**
 * Layer values as steps: depth to the right, value on a log scale, as a Vega-Lite 5 specification.
 *
 * @param figure the profiles
 * @returns plain JSON
 */
export function profileSpec(figure: ProfileFigure): VegaLiteSpec {
  const series = figure.profiles.map(({ name, top_m, base_m, value }) => ({
    name,
    form: "steps" as const,
    x: [...Array.from(top_m), base_m],
    y: [...Array.from(value), Array.from(value).at(-1) ?? Number.NaN],
  }));
  return curveSpec({
    title: figure.title,
    ...(figure.subtitle !== undefined && { subtitle: figure.subtitle }),
    ...(figure.legend !== undefined && { legend: figure.legend }),
    width_px: 620,
    x: { label: "Depth (m)", scale: "linear", withZero: true },
    y: { label: figure.label, scale: "log" },
    plots: [{ label: "", series }],
  });
}

import { type CurveFigure, curveSpec } from "../../figures/curve/curve.js";
import type { Figure } from "../../step/figure.js";

interface ProbabilityFigure extends Omit<Figure, "spec">, Pick<CurveFigure, "x"> {
  readonly legend: string;
  readonly curves: readonly {
    readonly name: string;
    readonly x: readonly number[];
    readonly y: readonly number[];
  }[];
  /** Where the dashed rule stands, and its text. */
  readonly mark: { readonly at: number; readonly text: string };
}

/** Curves of detection probability. */
export function probabilityFigure(figure: ProbabilityFigure): Figure {
  const { id, title, caption, x, legend, curves, mark } = figure;
  const series = curves.map((one) => ({ ...one, form: "line" as const }));
  const spec = curveSpec({
    title,
    width_px: 560,
    x,
    y: { label: "Probability to see it", scale: "linear", domain: [0, 1] },
    legend,
    plots: [{ label: "", series, marks: [mark] }],
  });
  return { id, title, caption, spec };
}

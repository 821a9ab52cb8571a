import { firstOf, lastOf } from "../../numerics/arrays.js";
import type { Figure } from "../../step/figure.js";
import { detectionProbability } from "../detection/detection-probability.js";
import type { PlanOptions } from "../options.js";
import type { PlannedWork } from "../profiling-plan.js";
import { planGround } from "../scene/plan-ground.js";
import { probabilityText } from "../words.js";
import { probabilityFigure } from "./probability-figure.js";

/** Probability by height of the coils, one curve a spacing. */
export function heightFigure({ value, ground }: PlannedWork, used: PlanOptions): Figure {
  const heights = value.byHeight.map(({ height_m }) => height_m);
  const grounds = heights.map((height_m) => planGround(ground, { ...used, height_m }));
  const other = value.height_m > 0 ? firstOf(value.byHeight) : lastOf(value.byHeight);
  return probabilityFigure({
    id: "plan-height",
    title:
      `At ${metres(value.height_m)} the coils see it with a probability ` +
      `${probabilityText(value.probability)}, at ${metres(other.height_m)} with one ` +
      `${probabilityText(other.probability)}`,
    caption:
      "Probability to see the target against the height of the coils, one curve a spacing of the " +
      "readings. Dashed rule: the height of the plan.",
    x: { label: "Height of the coils (m)", scale: "linear", withZero: true },
    legend: "Reading every",
    curves: value.bySpacing.map(({ spacing_m }) => ({
      name: `${spacing_m} m`,
      x: heights,
      y: grounds.map((at) => detectionProbability(at, { ...used, spacing_m }).probability),
    })),
    mark: { at: value.height_m, text: "plan" },
  });
}

const metres = (value: number): string => `${Number(value.toFixed(2))} m`;

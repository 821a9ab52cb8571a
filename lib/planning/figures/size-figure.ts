import type { Figure } from "../../step/figure.js";
import { detectionProbability } from "../detection/detection-probability.js";
import type { PlanOptions } from "../options.js";
import type { PlannedWork } from "../profiling-plan.js";
import { planGround } from "../scene/plan-ground.js";
import { probabilityText } from "../words.js";
import { probabilityFigure } from "./probability-figure.js";

/** Lengths that are drawn, over the length asked for. */
const LENGTHS = [0.25, 0.35, 0.5, 0.7, 1, 1.4, 2, 2.8, 4];

/** Probability by length and depth of a lens; none for another target. */
export function sizeFigure({ value, ground }: PlannedWork, used: PlanOptions): readonly Figure[] {
  const lens = ground.target;
  if (lens.kind !== "lens") return [];
  const thickness_m = lens.base_m - lens.top_m;
  const tops = [0.5 * lens.top_m, lens.top_m, 2 * lens.top_m + (lens.top_m === 0 ? 1 : 0)];
  const lengths = LENGTHS.map((factor) => factor * lens.length_m);
  const curves = [...new Set(tops)].map((top_m) => {
    const target = { ...lens, top_m, base_m: top_m + lens.base_m - lens.top_m };
    const at = planGround({ ...ground, target }, used);
    const y = lengths.map((length_m) => {
      return detectionProbability({ ...at, target: { ...target, length_m } }, used).probability;
    });
    return { name: `from ${top_m} m down`, x: lengths, y };
  });
  const figure = probabilityFigure({
    id: "plan-size",
    title:
      `A lens of ${lens.length_m} m from ${lens.top_m} m down is seen with a probability ` +
      `${probabilityText(value.probability)}`,
    caption:
      `Probability that the best test sees the lens, ${thickness_m.toFixed(1)} m thick with ` +
      `${lens.conductivityRatio} times the conductivity around it, at a false alarm in ` +
      `${(100 * used.falseAlarm).toFixed(1)} % of places without one. Dashed rule: the length ` +
      "asked for.",
    x: { label: "Length of the lens (m)", scale: "log" },
    legend: "Depth of the lens",
    curves,
    mark: { at: lens.length_m, text: "asked" },
  });
  return [figure];
}

import type { Figure } from "../step/figure.js";
import { heightFigure } from "./figures/height-figure.js";
import { partsFigure } from "./figures/parts-figure.js";
import { sizeFigure } from "./figures/size-figure.js";
import type { PlanOptions } from "./options.js";
import type { PlannedWork } from "./profiling-plan.js";

/** Probability by size and depth of a lens, by height and spacing, and what each frequency adds. */
export function planFigures(work: PlannedWork, used: PlanOptions): readonly Figure[] {
  return [
    ...sizeFigure(work, used),
    heightFigure(work, used),
    ...partsFigure(work.value, used.addsNothing),
  ];
}

import { stripSpec } from "../../figures/strip/strip.js";
import { extent } from "../../numerics/statistics/present.js";
import type { Figure } from "../../step/figure.js";
import { drawnCellsOf } from "../figures/section-cells.js";
import type { PlannedLine } from "./planned-line.js";
import { recoveredText } from "./words.js";

const HEIGHT_PX = 150;

/** The ground of one trial, and the section that its readings give. */
export function planLineFigures({ plan, typical }: PlannedLine): readonly Figure[] {
  if (typical === null) return [];
  const { section, from_m, to_m, truth } = typical;
  const cells = drawnCellsOf(section);
  const assumed = cells.map((cell) => {
    const x = (cell.from_m + cell.to_m) / 2;
    return { ...cell, value: truth(x, (cell.top_m + cell.base_m) / 2), confidence: 1 };
  });
  const { least, most } = extent([...cells, ...assumed].map(({ value }) => value));
  const title = recoveredText(plan);
  const panel = {
    kind: "cells",
    unit: "ohm-m",
    domain: [least, most],
    height_px: HEIGHT_PX,
  } as const;
  const spec = stripSpec({
    title,
    subtitle: `One trial, as good as the middle one of ${plan.best.trials}`,
    alongLabel: "Along the line (m)",
    marks: [
      { at_m: from_m, text: "target" },
      { at_m: to_m, text: "" },
    ],
    panels: [
      { ...panel, label: "Ground as it is assumed (ohm-m)", cells: assumed },
      {
        ...{ ...panel, label: "What its readings will show (ohm-m)", cells },
        fading: ["known", "known in part", "not known"],
      },
    ],
  });
  const caption =
    "Above, the ground of one trial in the cells of the section; below, the section that readings " +
    "with noise give of it. Colours fade where the readings do not decide.";
  return [{ id: "plan-line", title, caption, spec }];
}

import type { Figure } from "../../step/figure.js";
import type { Survey } from "../../survey/survey.js";
import type { SeepageOptions } from "../options.js";
import type { Seepage } from "../seepage.js";
import { crossSectionFigure } from "./cross-section.js";
import { gradientsFigure } from "./gradients.js";
import { zonesMap } from "./map.js";
import { lineFigure, rankingFigure } from "./ranking.js";

export function seepageFigures(
  value: Seepage,
  survey: Survey,
  { used }: { readonly used: SeepageOptions },
): readonly Figure[] {
  const line = lineFigure(value, used.bands);
  if (value.zones.length === 0) return [line, ...gradientsFigure(value)];
  return [
    line,
    rankingFigure(value),
    ...crossSectionFigure(value, survey),
    ...gradientsFigure(value),
    zonesMap(value),
  ];
}

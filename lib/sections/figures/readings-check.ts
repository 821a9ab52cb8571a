import type { StripSeries } from "../../figures/strip/strip.js";
import { stripSpec } from "../../figures/strip/strip.js";
import { groupedBy } from "../../numerics/arrays.js";
import type { Figure } from "../../step/figure.js";
import { countText } from "../../step/show/html.js";
import type { Section } from "../section.js";
import { alongLabel, originOf } from "./section-cells.js";

/** Lines of one size in a panel at most; the others are left out evenly. */
const MOST_LINES = 6;

/**
 * Apparent resistivity along the line, a curve for each array and size: a check of the readings,
 * in which a bad electrode shows as a kink in all curves.
 */
export function readingsCheckFigure(section: Section): Figure {
  const setAside = section.readings.filter(({ cause }) => cause !== "").length;
  const all = countText(section.readings.length, "reading");
  const title = `Line ${section.line}: ${setAside} of ${all} are set aside`;
  const arrays = groupedBy(
    section.readings.filter(({ x_m }) => Number.isFinite(x_m)),
    ({ array }) => array,
  );
  return {
    id: `section-readings-${section.line}`,
    title,
    caption:
      "Apparent resistivity where each array looks along the line, a curve for each depth of " +
      "looking. It is a check of the readings and no section. Curves stop where a reading is set " +
      "aside.",
    spec: stripSpec({
      title,
      alongLabel: alongLabel(section),
      panels: [...arrays].flatMap(([array, own]) => {
        const series = curves(section, own);
        if (series.length === 0) return [];
        return [
          {
            kind: "lines" as const,
            label: `${array} (ohm-m)`,
            scale: "log" as const,
            series,
            legend: "Median depth",
          },
        ];
      }),
    }),
  };
}

function curves(section: Section, readings: Section["readings"]): StripSeries[] {
  const origin_m = originOf(section);
  const byDepth = groupedBy(readings, ({ medianDepth_m }) => medianDepth_m.toFixed(1));
  const sorted = [...byDepth].filter(([, own]) => own.length > 2).sort(([p], [q]) => +p - +q);
  const every = Math.ceil(sorted.length / MOST_LINES);
  return sorted
    .filter((_, k) => k % every === 0)
    .map(([depth, own]) => {
      const along = [...own].sort((p, q) => p.x_m - q.x_m);
      return {
        name: `${depth} m`,
        x: along.map(({ x_m }) => origin_m + x_m),
        y: along.map(({ apparent_ohm_m, cause }) => (cause === "" ? apparent_ohm_m : Number.NaN)),
      };
    });
}

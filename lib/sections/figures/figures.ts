import { stripSpec } from "../../figures/strip/strip.js";
import type { Figure } from "../../step/figure.js";
import { countText } from "../../step/show/html.js";
import type { Section } from "../section.js";
import { sectionFinding } from "./finding.js";
import { readingsCheckFigure } from "./readings-check.js";
import { alongLabel, drawnCellsOf, readingSpots } from "./section-cells.js";

/** The section with its reliability and misfit, and the check of the readings. */
export function sectionFigures(section: Section): readonly Figure[] {
  return [sectionFigure(section), readingsCheckFigure(section)];
}

const WIDTH_PX = 780;
/** Heights are drawn true to lengths within these bounds. */
const HEIGHT_PX = { least: 170, most: 340 };

function sectionFigure(section: Section): Figure {
  const title = sectionFinding(section);
  const cells = drawnCellsOf(section);
  const spots = readingSpots(section);
  const { height_px, times } = heightOf(cells);
  const apart = spots.filter(({ shape }) => shape !== "dot").length;
  return {
    id: `section-${section.line}`,
    title,
    caption: captionOf(section),
    spec: stripSpec({
      title,
      subtitle:
        `${section.resolved.toFixed(0)} numbers are in the readings; reliable to ` +
        `${section.reliableTo_m.toFixed(1)} m under half of the line or more` +
        `${times === 1 ? "" : `; heights drawn ${times} times as large as lengths`}; ` +
        `${countText(apart, "reading")} of ${spots.length} do not fit`,
      alongLabel: alongLabel(section),
      panels: [
        {
          kind: "cells",
          label: "Resistivity under the line (ohm-m)",
          unit: "ohm-m",
          ...{ cells, spots, height_px },
          elevationLabel: "Elevation (m above datum)",
          fading: ["known", "known in part", "not known"],
        },
      ],
    }),
  };
}

function heightOf(cells: ReturnType<typeof drawnCellsOf>) {
  const right = cells.reduce((most, { to_m }) => Math.max(most, to_m), -Infinity);
  const left = cells.reduce((least, { from_m }) => Math.min(least, from_m), Infinity);
  const high = cells.reduce((most, c) => Math.max(most, (c.surface_m ?? 0) - c.top_m), -Infinity);
  const low = cells.reduce((least, c) => Math.min(least, (c.surface_m ?? 0) - c.base_m), Infinity);
  const perMetre = WIDTH_PX / (right - left);
  const wanted = perMetre * (high - low);
  const height_px = Math.round(Math.min(HEIGHT_PX.most, Math.max(HEIGHT_PX.least, wanted)));
  const times = Number((height_px / wanted).toPrecision(2));
  return { height_px, times: Math.abs(times - 1) < 0.05 ? 1 : times };
}

function captionOf(section: Section): string {
  const side = section.runs === "along" ? "" : " The landside is to the left.";
  return (
    "Resistivity at field temperature on a logarithmic scale; depths hang from the surface. " +
    "Colours fade where the spread of a cell, or the share of an assumed resistivity that shows " +
    "through in it, says that the readings do not decide it. A dot marks where each reading in " +
    "use looks (median depth over even ground); a triangle one that lies more than 2.5 standard " +
    `deviations above (up) or below (down) what the section gives.${side}`
  );
}

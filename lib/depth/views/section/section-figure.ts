import type { Cell, StretchesPanel } from "../../../figures/strip/strip.js";
import { stripSpec } from "../../../figures/strip/strip.js";
import { figureWidth_px, greys } from "../../../figures/theme.js";
import { firstOf, lastOf } from "../../../numerics/arrays.js";
import type { Figure } from "../../../step/figure.js";
import { gapBands } from "../../data/gap-bands.js";
import type { DepthSlices } from "../../depth-slices.js";
import { sectionCells } from "./section-cells.js";
import { sectionFinding } from "./section-finding.js";

const HEIGHT_PX = 260;

/** The section along chainage, with its reliability and its gaps. */
export function sectionFigure(value: DepthSlices): Figure {
  const title = sectionFinding(value);
  const cells = sectionCells(value);
  const elevations = value.crestElevation_m !== undefined;
  return {
    id: `depth-section-${value.campaign}`,
    title,
    caption: captionOf(value),
    spec: stripSpec({
      title,
      subtitle: subtitleOf(value, cells),
      panels: [
        {
          kind: "cells",
          label: "Resistivity under the crest (ohm-m)",
          unit: "ohm-m",
          cells,
          height_px: HEIGHT_PX,
          ...(value.reliableTo_m > 0 && { reliableTo_m: value.reliableTo_m }),
          ...(elevations && { elevationLabel: "Elevation (m above datum)" }),
          fading: ["known", "known in part", "not resolved"],
        },
        ...gpsPanels(value),
      ],
      setAside: gapBands(value),
    }),
  };
}

function captionOf(value: DepthSlices): string {
  const top =
    value.crestElevation_m === undefined
      ? "Depth is below the crest; the survey tells no elevations."
      : "The upper line is the crest at its elevation; depths hang from it.";
  const walks = (value.gpsGaps ?? []).length === 0 ? "" : GPS_TEXT;
  return (
    `Resistivity of the layered model at field temperature, on a logarithmic scale. ${top} ` +
    "Colours pale where a layer's spread comes near what was believed before the readings, and " +
    "everywhere below the reliable depth (dotted): what stands there is the prior's. Grey " +
    `stretches have no estimate; the cause stands above them.${walks}`
  );
}

const GPS_TEXT =
  " Bars below: where a walk had no position from GPS; bridged ones are placed by time between " +
  "the positions on either side, others are left out.";

function subtitleOf(value: DepthSlices, cells: readonly Cell[]): string {
  const levels = `${value.independentLevels.toFixed(1)} independent levels in the readings`;
  const times = exaggeration(value, cells);
  return times === null ? levels : `${levels}; heights drawn ${times} times as large as lengths`;
}

/** Vertical exaggeration, to two digits. */
function exaggeration({ chainage_m, spacing_m }: DepthSlices, cells: readonly Cell[]) {
  if (cells.length === 0) return null;
  const surface = (cell: Cell) => cell.surface_m ?? 0;
  const high = cells.reduce((most, c) => Math.max(most, surface(c) - c.top_m), -Infinity);
  const low = cells.reduce((least, c) => Math.min(least, surface(c) - c.base_m), Infinity);
  const length_m = lastOf(chainage_m) - firstOf(chainage_m) + spacing_m;
  const times = HEIGHT_PX / (high - low) / (figureWidth_px / length_m);
  return Number(times.toPrecision(2));
}

/** Gaps of several walks that overlap, as one. */
function united(gaps: NonNullable<DepthSlices["gpsGaps"]>) {
  const out: { from_m: number; to_m: number; walks: string[] }[] = [];
  for (const { from_m, to_m, resource } of gaps) {
    const last = out.at(-1);
    if (last !== undefined && from_m <= last.to_m) {
      last.to_m = Math.max(last.to_m, to_m);
      if (!last.walks.includes(resource)) last.walks.push(resource);
    } else out.push({ from_m, to_m, walks: [resource] });
  }
  return out;
}

const GROUPS = { bridged: "placed by time", none: "left out" } as const;

/** Bars where GPS failed, where it did. */
function gpsPanels({ gpsGaps = [] }: DepthSlices): readonly StretchesPanel[] {
  if (gpsGaps.length === 0) return [];
  const stretches = [true, false].flatMap((bridged) =>
    united(gpsGaps.filter((gap) => gap.bridged === bridged)).map(({ from_m, to_m, walks }) => ({
      from_m,
      to_m,
      text: "",
      group: bridged ? GROUPS.bridged : GROUPS.none,
      detail: walks.join(", "),
    })),
  );
  return [
    {
      kind: "stretches",
      label: "Where GPS gave no position, and what became of the readings",
      stretches,
      colours: { [GROUPS.bridged]: "#c77700", [GROUPS.none]: greys.quiet },
    },
  ];
}

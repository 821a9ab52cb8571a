import { stripSpec } from "../../figures/strip/strip.js";
import type { StepReport } from "../../step/define-step.js";
import type { Figure, Table } from "../../step/figure.js";
import { countText } from "../../step/show/html.js";
import type { Basis } from "../../step/step-account.js";
import { alongLabel, columnsUnder } from "../figures/section-cells.js";
import type { SectionChangeOptions } from "./options.js";
import type { SectionChange } from "./section-change.js";

/** What `invertSectionChange` says of itself. */
export function sectionChangeReport(
  value: SectionChange,
  used: SectionChangeOptions,
): StepReport<SectionChange> {
  return {
    value,
    summary:
      `${findingOf(value)}. ${countText(value.pairs, "spread")} in use in both campaigns, ` +
      `${value.unpaired} in one only. Of the cells called changed about ` +
      `${(100 * used.q).toFixed(0)} % may be so by chance.`,
    basis: BASIS,
    cautions: cautionsOf(value, used),
    figures: [changeFigure(value)],
    tables: [bodiesTable(value)],
  };
}

const BASIS: readonly Basis[] = [
  {
    statement: "Mean and difference of two readings of one spread have independent errors.",
    source: "Casella & Berger 2002, Statistical Inference, theorem 5.3.1",
  },
  {
    statement: "As many cells are called changed as keep the stated share of false ones.",
    source: "Newton, Noueiry, Sarkar & Ahlquist 2004, Biostatistics 5, 155",
  },
];

function cautionsOf(
  { unpaired, pairs, noise, runs }: SectionChange,
  { water, includeWater }: SectionChangeOptions,
): readonly string[] {
  const texts = [
    "Resistivities are at field temperature: ground colder by ten degrees is more resistive by a " +
      "quarter without having changed.",
    "Where no cell is called changed the ground may have changed by less than the readings tell.",
  ];
  if (runs === "across") {
    const level =
      water === null || !includeWater
        ? "The water beside the line is no part of the model"
        : `The water beside the line is taken at ${water.level_m.toFixed(2)} m in both campaigns`;
    texts.push(
      `${level}: where it stood otherwise in one of them, its difference shows at the waterside as ` +
        "change of the ground.",
    );
  }
  if (unpaired > pairs) texts.push("Most spreads were in use in one campaign only.");
  if (noise > 1.5) {
    texts.push("Differences scatter more than repeats and reciprocals say: electrodes moved?");
  }
  return texts;
}

function findingOf({ line, earlier, later, bodies }: SectionChange): string {
  const [first] = bodies;
  const when = `${earlier} to ${later}`;
  if (first === undefined)
    return `Line ${line}, ${when}: no body of cells is known to have changed`;
  const more = bodies.length > 1 ? ` and ${countText(bodies.length - 1, "more", "more")}` : "";
  return (
    `Line ${line}, ${when}: resistivity ${first.direction} to ${(100 * first.ratio).toFixed(0)} % ` +
    `at x ${first.from_m.toFixed(0)}–${first.to_m.toFixed(0)} m, ` +
    `${first.top_m.toFixed(1)}–${first.base_m.toFixed(1)} m deep${more}`
  );
}

function changeFigure(value: SectionChange): Figure {
  const title = findingOf(value);
  const { cells, surface_m } = value;
  const down = cells.depth_m.length - 1;
  const drawn = columnsUnder(value).flatMap(({ index, from_m, to_m }) =>
    cells.depth_m.slice(0, -2).map((top_m, row) => {
      const cell = index * down + row;
      return {
        ...{ from_m, to_m, top_m },
        base_m: cells.depth_m[row + 1]!,
        value: 10 ** cells.log10Ratio[cell]!,
        confidence: cells.changed[cell] === 0 ? 0 : 1,
        surface_m: surface_m[index]!,
      };
    }),
  );
  return {
    id: `section-change-${value.line}`,
    title,
    caption:
      "Later over earlier resistivity on a logarithmic scale. Full colours where cells are called " +
      "changed, pale where the readings do not tell a change from none.",
    spec: stripSpec({
      title,
      alongLabel: alongLabel(value),
      panels: [
        {
          kind: "cells",
          label: "Later over earlier resistivity",
          unit: "ratio",
          cells: drawn,
          height_px: 200,
          elevationLabel: "Elevation (m above datum)",
          fading: ["changed", "(not used)", "not known"],
        },
      ],
    }),
  };
}

function bodiesTable({ bodies, line }: SectionChange): Table {
  return {
    id: `section-change-bodies-${line}`,
    caption: "Bodies of cells that changed; x along the line, depth below the surface",
    columns: [
      { field: "from_m", label: "From x (m)", digits: 1 },
      { field: "to_m", label: "To x (m)", digits: 1 },
      { field: "top_m", label: "Top (m)", digits: 1 },
      { field: "base_m", label: "Base (m)", digits: 1 },
      { field: "direction", label: "Resistivity" },
      { field: "ratio", label: "Later over earlier", digits: 2 },
      { field: "probability", label: "Probability", digits: 3 },
    ],
    rows: bodies.map((body) => ({ ...body })),
  };
}

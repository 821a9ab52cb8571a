import { lastOf } from "../../numerics/arrays.js";
import type { Table, TableRow } from "../../step/figure.js";
import type { Borehole } from "../../survey/survey.js";
import type { Block, Blocks } from "../blocks.js";
import { ohm, sliceColumns } from "../tables.js";
import { blocksByClass, type ClassBlocks, weightedLogMean } from "./blocks-by-class.js";

/** One row a class: blocks, length, resistivity by slice, scatter, and what boreholes met. */
export function classTable({ blocks, campaign }: Blocks, boreholes: readonly Borehole[]): Table {
  const drilled = boreholes.length > 0;
  return {
    id: `block-classes-${campaign}`,
    caption: classCaption(drilled),
    columns: [
      { field: "class", label: "Class" },
      { field: "blocks", label: "Blocks" },
      { field: "length_m", label: "Length (m)", digits: 0 },
      ...sliceColumns(blocks),
      { field: "scatter", label: "Scatter within blocks (decades)", digits: 3 },
      { field: "least", label: "Least sure member" },
      ...(drilled
        ? [
            { field: "boreholes", label: "Boreholes in it" },
            { field: "strata", label: "Strata met over the reliable depth" },
          ]
        : []),
    ],
    rows: blocksByClass(blocks).map((one) => classRow(one, boreholes)),
  };
}

function classCaption(drilled: boolean): string {
  const base =
    "Classes from conductive to resistive. Resistivities are log-means of the blocks' medians, " +
    "ohm-m at field temperature. A class says that blocks are alike, not what soil they are.";
  return drilled
    ? `${base} Strata are shares of the logged length in the class's boreholes (ISO 14688-1 ` +
        "letters): they speak for those boreholes, not for the whole class."
    : base;
}

function classRow({ name, own, slices }: ClassBlocks, boreholes: readonly Borehole[]): TableRow {
  const least = own.reduce((one, other) => (sureness(other) < sureness(one) ? other : one));
  const holes = boreholes.filter(({ chainage_m }) => own.some((block) => holds(block, chainage_m)));
  return {
    class: name,
    blocks: own.map((block) => block.id).join(", "),
    length_m: own.reduce((sum, block) => sum + block.to_m - block.from_m, 0),
    ...Object.fromEntries(slices.map(({ median }, k) => [`slice${k}`, ohm(median)])),
    scatter: weightedLogMean(own, (block) => block.heterogeneity ?? Number.NaN),
    least: `${least.id}, ${(100 * sureness(least)).toFixed(0)} %`,
    boreholes: holes.map(({ borehole }) => borehole).join(", ") || "none",
    strata: strataShares(holes, lastOf(slices).base_m),
  };
}

const sureness = (block: Block) => block.classProbability ?? 1;

const holds = (block: Block, x: number) => x >= block.from_m && x < block.to_m;

/** "siCl 62 %, Sa 38 %" by falling share of the length logged above a depth. */
function strataShares(holes: readonly Borehole[], to_m: number): string {
  const length = new Map<string, number>();
  for (const { strata } of holes) {
    for (const { top_m, base_m, soil } of strata) {
      const within = Math.min(base_m, to_m) - top_m;
      if (within > 0) length.set(soil, (length.get(soil) ?? 0) + within);
    }
  }
  const total = [...length.values()].reduce((sum, value) => sum + value, 0);
  if (!(total > 0)) return "none logged";
  return [...length]
    .sort((one, other) => other[1] - one[1] || (one[0] < other[0] ? -1 : 1))
    .map(([soil, value]) => `${soil} ${((100 * value) / total).toFixed(0)} %`)
    .join(", ");
}

import { firstOf } from "../numerics/arrays.js";
import type { Table, TableColumn, TableRow } from "../step/figure.js";
import type { Block, Blocks } from "./blocks.js";

/** One row a block: ends with intervals, class, resistivities by slice, what is missing. */
export function blocksTable({ blocks, campaign }: Blocks): Table {
  return {
    id: `blocks-${campaign}`,
    caption:
      "Blocks by chainage. The intervals hold a boundary with 90 % probability, given as many " +
      "boundaries; beside the start stand the probability that there is a boundary (and not a " +
      "ramp, a level that wanders, or nothing), and that one lies within 5 m. A smaller step in " +
      "the middle of a block than the least seen would be missed more often than one time in " +
      "five. Resistivities are medians with the 10 % and 90 % points over " +
      "the block's stations, ohm-m at field temperature.",
    columns: [
      { field: "id", label: "Block" },
      { field: "class", label: "Class" },
      { field: "from_m", label: "From (m)", digits: 1 },
      { field: "fromInterval", label: "90 % interval (m)" },
      { field: "fromProbability", label: "Is there (%)", digits: 0 },
      { field: "fromNear", label: "Is near there (%)", digits: 0 },
      { field: "to_m", label: "To (m)", digits: 1 },
      { field: "toInterval", label: "90 % interval (m)" },
      ...sliceColumns(blocks),
      { field: "trend", label: "Trend" },
      { field: "least", label: "Least step seen (%)", digits: 0 },
      { field: "scatter", label: "Scatter (decades)", digits: 3 },
      { field: "stations", label: "Stations" },
      { field: "masked_pct", label: "Without estimate (%)", digits: 0 },
    ],
    rows: blocks.map(blockRow),
  };
}

/** One column a slice, `slice0`, `slice1`, …. */
export function sliceColumns(blocks: readonly Block[]): readonly TableColumn[] {
  return firstOf(blocks).resistivity_ohm_m.map(({ top_m, base_m }, k) => ({
    field: `slice${k}`,
    label: `${top_m.toFixed(1)}–${base_m.toFixed(1)} m (ohm-m)`,
  }));
}

function blockRow(block: Block): TableRow {
  const slices = block.resistivity_ohm_m.map(
    ({ median, p10, p90 }, k) => [`slice${k}`, `${ohm(median)} (${ohm(p10)}–${ohm(p90)})`] as const,
  );
  return {
    id: block.id,
    class: block.class,
    from_m: block.from_m,
    fromInterval: intervalText(block.fromInterval_m),
    fromProbability: percent(block.fromProbability),
    fromNear: percent(block.fromNearProbability),
    to_m: block.to_m,
    toInterval: intervalText(block.toInterval_m),
    ...Object.fromEntries(slices),
    trend: trendText(block),
    least: block.leastStep_pct ?? null,
    scatter: block.heterogeneity ?? null,
    stations: block.stations,
    masked_pct: block.masked_pct,
  };
}

/** "changes steadily from 32 to 48 ohm-m", over its slices; null where the block is level. */
export function trendText({ trend }: Pick<Block, "trend">): string | null {
  if (trend === undefined) return null;
  const mean = (values: readonly number[]) =>
    10 ** (values.reduce((sum, one) => sum + Math.log10(one), 0) / values.length);
  const from = mean(trend.map(({ from_ohm_m }) => from_ohm_m));
  const to = mean(trend.map(({ to_ohm_m }) => to_ohm_m));
  return `changes steadily from ${ohm(from)} to ${ohm(to)} ohm-m`;
}

const percent = (value: number | undefined) => (value === undefined ? null : 100 * value);

const intervalText = ([low, high]: readonly [number, number]) =>
  low === high ? "end of line" : `${low.toFixed(0)}–${high.toFixed(0)}`;

/** Three significant digits; an en dash where there is no value. */
export function ohm(value: number): string {
  return Number.isFinite(value) ? String(Number(value.toPrecision(3))) : "–";
}

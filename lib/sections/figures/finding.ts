import type { Section } from "../section.js";
import { columnsUnder } from "./section-cells.js";

/** Ratio of a cell to the middle of its section from which it is worth a word. */
const WORTH_SAYING = 1.5;

/** The section in a sentence: the lowest and highest ground that is reliable, and where. */
export function sectionFinding(section: Section): string {
  const { cells, line } = section;
  const down = cells.depth_m.length - 1;
  const places = columnsUnder(section).flatMap((column) => {
    const rows = Array.from({ length: down - 1 }, (_, row) => column.index * down + row);
    return rows
      .filter((cell) => cells.reliable[cell] === 1)
      .map((cell) => ({ column, row: cell % down, value: cells.log10Resistivity[cell] ?? 0 }));
  });
  const [first, ...others] = places;
  if (first === undefined) return `Line ${line}: the readings decide no cell of the section`;
  const low = others.reduce((least, one) => (one.value < least.value ? one : least), first);
  const high = others.reduce((most, one) => (one.value > most.value ? one : most), first);
  const text = ({ column, row, value }: typeof first) =>
    `${ohm(value)} ohm-m at ${column.at_m.toFixed(0)} m, ` +
    `${((cells.depth_m[row]! + cells.depth_m[row + 1]!) / 2).toFixed(1)} m deep`;
  if (10 ** (high.value - low.value) < WORTH_SAYING) {
    return `Line ${line}: about ${ohm((low.value + high.value) / 2)} ohm-m throughout`;
  }
  return `Line ${line}: from ${text(low)}, to ${text(high)}`;
}

const ohm = (log10: number): string => Number((10 ** log10).toPrecision(2)).toLocaleString("en");

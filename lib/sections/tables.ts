import { groupedBy } from "../numerics/arrays.js";
import type { Table } from "../step/figure.js";
import type { Section } from "./section.js";

export function sectionTables(section: Section): readonly Table[] {
  return [arrayTable(section), errorTable(section)];
}

function arrayTable({ readings, line }: Section): Table {
  const groups = groupedBy(readings, ({ array }) => array);
  return {
    id: `section-arrays-${line}`,
    caption: "Readings by array: how many, how deep they look, and how they fit",
    columns: [
      { field: "array", label: "Array" },
      { field: "readings", label: "Readings" },
      { field: "setAside", label: "Set aside" },
      { field: "shallow", label: "Median depth from (m)", digits: 1 },
      { field: "deep", label: "to (m)", digits: 1 },
      { field: "misfit", label: "Misfit (sd)", digits: 2 },
    ],
    rows: [...groups].map(([array, own]) => {
      const used = own.filter(({ cause }) => cause === "");
      const depths = own.map(({ medianDepth_m }) => medianDepth_m).filter(Number.isFinite);
      const square = used.reduce((sum, { residual }) => sum + residual ** 2, 0);
      return {
        ...{ array, readings: own.length, setAside: own.length - used.length },
        shallow: depths.length > 0 ? Math.min(...depths) : null,
        deep: depths.length > 0 ? Math.max(...depths) : null,
        misfit: used.length > 0 ? Math.sqrt(square / used.length) : null,
      };
    }),
  };
}

function errorTable({ errors, noise, line }: Section): Table {
  return {
    id: `section-errors-${line}`,
    caption: "Errors of a reading, one standard deviation, and what they rest on",
    columns: [
      { field: "part", label: "Part" },
      { field: "size", label: "Size", digits: 3 },
      { field: "basis", label: "From" },
    ],
    rows: [
      {
        part: "share of the reading (%)",
        size: 100 * errors.share,
        basis: `${errors.reciprocals} reciprocals, ${errors.repeats} repeats`,
      },
      { part: "per stacking deviation", size: errors.perDeviation, basis: "the same" },
      { part: "of the voltage (mV)", size: errors.floor_mV, basis: "the same" },
      { part: "all of them times", size: noise, basis: "the section's misfit" },
    ],
  };
}

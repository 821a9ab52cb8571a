import type { Table } from "../../step/figure.js";
import type { LinePlan } from "./line-plan.js";

export function planLineTables({ arrays }: LinePlan): readonly Table[] {
  return [
    {
      id: "plan-line-arrays",
      caption: "The arrays on the same ground",
      columns: [
        { field: "array", label: "Array" },
        { field: "readings", label: "Readings", digits: 0 },
        { field: "minutes", label: "Minutes", digits: 0 },
        { field: "recovered", label: "Recovered" },
        { field: "low", label: "Probability from (80 %)", digits: 2 },
        { field: "high", label: "to", digits: 2 },
        { field: "overlap", label: "Overlap, median", digits: 2 },
        { field: "reliable", label: "Reliable share of the target", digits: 2 },
        { field: "contrast", label: "Share of its contrast that shows", digits: 2 },
      ],
      rows: arrays.map(({ interval: [low, high], recovered, trials, ...one }) => ({
        ...{ array: one.array, readings: one.readings, minutes: one.minutes },
        recovered: `${recovered} of ${trials}`,
        ...{ low, high, overlap: one.overlap, reliable: one.reliable, contrast: one.contrast },
      })),
    },
  ];
}

import type { Table } from "../../step/figure.js";
import { sliceText } from "./slice-text.js";
import type { Soils } from "./soils.js";

/** What was measured at each borehole, and what the others tell of it. */
export function soilsTables(value: Soils): readonly Table[] {
  return value.properties.map((property) => ({
    id: `soils-${property.name.replace(" ", "-")}`,
    caption:
      `Laboratory ${property.name} by borehole and slice, and what the other boreholes alone tell: ` +
      "the middle and the interval that holds four samples in five",
    columns: [
      { field: "borehole", label: "Borehole" },
      { field: "slice", label: "Slice" },
      {
        field: "resistivity",
        label: `Resistivity${value.at25 ? " at 25 °C" : ""} (ohm-m)`,
        digits: 0,
      },
      { field: "value", label: "Laboratory (%)", digits: 0 },
      { field: "told", label: "By the others (%)" },
    ],
    rows: property.samples.map((sample) => ({
      borehole: sample.borehole,
      slice: sliceText(sample),
      resistivity: sample.resistivity_ohm_m,
      value: sample.value,
      told:
        `${sample.others.p50.toFixed(0)} ` +
        `(${sample.others.p10.toFixed(0)}–${sample.others.p90.toFixed(0)})`,
    })),
  }));
}

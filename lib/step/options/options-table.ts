import type { Table } from "../figure.js";
import { valueText } from "../show/html.js";
import type { OptionSpecs } from "./option.js";

/** The options of a step as documentation: rule, default and meaning of each. */
export function optionsTable(step: string, specs: OptionSpecs): Table {
  return {
    id: `options-${step}`,
    caption: `Options of ${step}`,
    columns: [
      { field: "option", label: "Option" },
      { field: "rule", label: "Must be" },
      { field: "standard", label: "Default" },
      { field: "meaning", label: "Meaning" },
    ],
    rows: Object.entries(specs).map(([option, { rule, meaning, default: standard }]) => ({
      option,
      rule,
      standard: valueText(standard),
      meaning,
    })),
  };
}

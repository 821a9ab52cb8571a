import { field, type LayerField } from "./layer.js";

/** Fields that every layer of stretches begins with. */
export const stretchFields: readonly LayerField[] = [
  field("line", "text", [
    "Walked line",
    "Name of the walked line; empty where the survey walked one line.",
  ]),
  field("from_m", "real", ["From (m)", "Chainage at which the stretch begins, m."]),
  field("to_m", "real", ["To (m)", "Chainage at which the stretch ends, m."]),
];

/** Their values. */
export function stretchValues(stretch: {
  readonly line?: string;
  readonly from_m: number;
  readonly to_m: number;
}) {
  return [stretch.line ?? null, stretch.from_m, stretch.to_m] as const;
}

import type { Layer, Mark } from "./spec.js";
import { greys } from "./theme.js";

/** A text drawn twice: first as a pale outline that parts it from lines behind. */
export function haloed(
  mark: Omit<Mark, "type">,
  layer: Omit<Layer, "mark"> = { data: { values: [{}] }, encoding: {} },
): readonly Layer[] {
  const outline = {
    stroke: greys.background,
    strokeWidth: 3.5,
    strokeOpacity: 0.9,
    strokeJoin: "round",
  } as const;
  return [
    { ...layer, mark: { type: "text", ...mark, ...outline } },
    { ...layer, mark: { type: "text", ...mark } },
  ];
}

import { greys } from "./theme.js";

type Json = Readonly<Record<string, unknown>>;

/** A text at a place of its own, drawn twice: first as a pale outline that parts it from lines behind. */
export function haloed(
  mark: Json,
  layer: Json = { data: { values: [{}] }, encoding: {} },
): readonly Json[] {
  const outline = {
    stroke: greys.background,
    strokeWidth: 3.5,
    strokeOpacity: 0.9,
    strokeJoin: "round",
  };
  return [
    { ...layer, mark: { type: "text", ...mark, ...outline } },
    { ...layer, mark: { type: "text", ...mark } },
  ];
}

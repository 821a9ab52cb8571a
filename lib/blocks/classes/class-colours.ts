import { classColour } from "../../figures/theme.js";

/** A colour for each class by its place among all classes: the same in every figure of a cut. */
export function classColoursOf(
  blocks: readonly { readonly class: string }[],
): Readonly<Record<string, string>> {
  const names = [...new Set(blocks.map((block) => block.class))].sort();
  return Object.fromEntries(names.map((name, place) => [name, classColour(place)]));
}

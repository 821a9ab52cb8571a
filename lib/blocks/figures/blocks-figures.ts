import type { DepthSlices } from "../../depth/depth-slices.js";
import type { Figure } from "../../step/figure.js";
import type { Blocks } from "../blocks.js";
import { classFigure } from "../classes/class-figure.js";
import { blocksFigure } from "./blocks-figure.js";
import { blocksMap } from "./map-figure.js";
import { pathFigure } from "./path-figure.js";

/** The figures of a line that has blocks. */
export function blocksFigures(given: DepthSlices, value: Blocks): readonly Figure[] {
  const path = pathFigure(value);
  const prices = path === null ? [] : [path];
  return [blocksFigure(given, value), ...prices, classFigure(value), blocksMap(value)];
}

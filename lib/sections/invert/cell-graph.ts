import { neighbours } from "../../numerics/arrays.js";
import type { SectionCells } from "../model/section-cells.js";

/** Cells, column by column from the top, and the faces between neighbours. */
export interface CellGraph {
  readonly across: number;
  readonly down: number;
  /** The two cells of each face, the one to the left or above first. */
  readonly first: Int32Array;
  readonly second: Int32Array;
  /** 0 between columns, 1 between rows. */
  readonly kind: Uint8Array;
  /** Distance of the cells' middles over the length of the face: of the variance of a difference. */
  readonly spread: Float64Array;
}

/** Two cells side by side; the outermost count with their own widths, endless as they are. */
export function cellGraph({ x_m, depth_m }: SectionCells): CellGraph {
  const widths = neighbours(x_m).map(([from, to]) => to - from);
  const heights = neighbours(depth_m).map(([top, base]) => base - top);
  const [across, down] = [widths.length, heights.length];
  const faces: { first: number; second: number; kind: number; spread: number }[] = [];
  widths.forEach((width, i) => {
    heights.forEach((height, j) => {
      const first = i * down + j;
      const right = widths[i + 1];
      if (right !== undefined) {
        const spread = (width + right) / 2 / height;
        faces.push({ first, second: first + down, kind: 0, spread });
      }
      const below = heights[j + 1];
      if (below !== undefined) {
        const spread = (height + below) / 2 / width;
        faces.push({ first, second: first + 1, kind: 1, spread });
      }
    });
  });
  return {
    ...{ across, down },
    first: Int32Array.from(faces, (face) => face.first),
    second: Int32Array.from(faces, (face) => face.second),
    kind: Uint8Array.from(faces, (face) => face.kind),
    spread: Float64Array.from(faces, (face) => face.spread),
  };
}

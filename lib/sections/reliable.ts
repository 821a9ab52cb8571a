import { neighbours } from "../numerics/arrays.js";
import { median } from "../numerics/statistics/robust.js";
import type { SectionValues } from "./section.js";
import type { SectionElectrode } from "./section-input.js";
import type { InvertSectionOptions } from "./section-options.js";

/** 1 for cells that the readings decide, not the prior. */
export function reliableCells(
  { log10Sd, reference }: Pick<SectionValues, "log10Sd" | "reference">,
  { cellSd, reach }: Pick<InvertSectionOptions, "cellSd" | "reach">,
): Uint8Array {
  return Uint8Array.from(log10Sd, (sd, c) => (sd <= cellSd && reference[c]! <= reach ? 1 : 0));
}

/** Median over columns under the electrodes of the depth down to which every cell is reliable. */
export function reliableDepth(
  { x_m, depth_m, reliable }: Pick<SectionValues, "x_m" | "depth_m" | "reliable">,
  electrodes: readonly SectionElectrode[],
): number {
  const down = depth_m.length - 1;
  const ends = electrodes.map((electrode) => electrode.x_m);
  const [first, last] = [Math.min(...ends), Math.max(...ends)];
  const depths = neighbours(x_m).flatMap(([from, to], i) => {
    if (to <= first || from >= last) return [];
    const column = reliable.subarray(i * down, (i + 1) * down);
    const unknown = column.indexOf(0);
    // The last cell has no base, so that it adds nothing to a depth.
    return [depth_m[unknown < 0 ? down - 1 : unknown]!];
  });
  return median(depths);
}

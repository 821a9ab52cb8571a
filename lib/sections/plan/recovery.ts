import type { Section, SectionValues } from "../section.js";
import type { LineTarget } from "./line-plan.js";
import type { TrialGround } from "./trial-ground.js";

/** How a section of a trial shows the target; nothing of one below its last row. */
export interface Recovery {
  /**
   * Area that target and half-contrast body share in reliable cells, over the area of both; 0
   * where less than half of the target is reliable.
   */
  readonly overlap: number;
  /** Share of the target's area that is reliable. */
  readonly reliable: number;
  /** Share of its contrast in ln ρ that shows in it. */
  readonly contrast: number;
}

export const NOT_RECOVERED: Recovery = { overlap: 0, reliable: 0, contrast: 0 };

/** Looked at is the target with its own size about it. */
export function recoveryOf(
  { cells }: Pick<Section, "cells">,
  ground: TrialGround,
  target: LineTarget,
): Recovery {
  const ratio = Math.log10(target.resistivityRatio);
  let [shared, either, known, shown, all] = [0, 0, 0, 0, 0];
  for (const { cell, area, share, host } of cellsAbout(cells, ground, target)) {
    const away = (cells.log10Resistivity[cell]! - host) / ratio;
    all += share * area;
    shown += share * area * away;
    if (cells.reliable[cell] !== 1) continue;
    known += share * area;
    const [isTarget, isFound] = [share >= 0.5, away > 0.5];
    if (isTarget && isFound) shared += area;
    if (isTarget || isFound) either += area;
  }
  if (!(all > 0)) return NOT_RECOVERED;
  const overlap = known >= all / 2 && either > 0 ? shared / either : 0;
  return { overlap, reliable: known / all, contrast: shown / all };
}

interface CellAbout {
  readonly cell: number;
  readonly area: number;
  /** Share of it that is target. */
  readonly share: number;
  /** log10 of what is there without the target. */
  readonly host: number;
}

function cellsAbout(
  { x_m, depth_m }: SectionValues,
  ground: TrialGround,
  { length_m, top_m, base_m }: LineTarget,
): CellAbout[] {
  const down = depth_m.length - 1;
  const within = (from: number, to: number, [low, high]: readonly [number, number]) =>
    (from + to) / 2 > low && (from + to) / 2 < high;
  return x_m.slice(1).flatMap((right, i) => {
    const left = x_m[i]!;
    if (!within(left, right, [ground.from_m - length_m, ground.to_m + length_m])) return [];
    return depth_m.slice(1, -1).flatMap((base, row) => {
      const top = depth_m[row]!;
      if (!within(top, base, [0, 2 * base_m - top_m])) return [];
      const mean = (of: (x: number, z: number) => number) => meanOver([left, right, top, base], of);
      const share = mean((x, z) => (ground.isTarget(x, z) ? 1 : 0));
      const host = mean((x, z) => Math.log10(ground.host(x, z)));
      return [{ cell: i * down + row, area: (right - left) * (base - top), share, host }];
    });
  });
}

const POINTS = 6;

function meanOver(
  [left, right, top, base]: readonly [number, number, number, number],
  of: (x: number, z: number) => number,
): number {
  let sum = 0;
  for (let p = 0.5; p < POINTS; p++) {
    const x = left + (p / POINTS) * (right - left);
    for (let q = 0.5; q < POINTS; q++) sum += of(x, top + (q / POINTS) * (base - top));
  }
  return sum / POINTS ** 2;
}

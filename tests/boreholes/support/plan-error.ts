import type { Blocks } from "../../../lib/blocks/blocks.js";
import { soilClasses } from "../../../lib/boreholes/soils/classes.js";
import { groundOf } from "../../../lib/boreholes/soils/ground.js";
import { momentsOf } from "../../../lib/boreholes/soils/soil-model.js";
import type { SeededBank } from "./seeded-bank.js";

export interface PlannedHole {
  readonly chainage_m: number;
  readonly depth_m: number;
}

/** Places nearer to a hole than this were seen, and are not counted. */
const SEEN_M = 15;
const [NEAR_M, STEP_M] = [6, 10];

/**
 * Share of slices along a bank whose kind of soil is told wrongly once the holes are drilled, as
 * `predictSoils` tells them.
 */
export function wrongShare(bank: SeededBank, blocks: Blocks) {
  const ground = groundOf(bank.slices, blocks.blocks, NEAR_M);
  const chainage_m = ground.along(STEP_M);
  const places = ground.slices.map((_, k) => Array.from(chainage_m, (x) => ground.at(x, k)));
  const kinds = places.map((row, k) => row.map((_, i) => bank.kindAt(chainage_m[i]!, k)));
  const there = places.flat().flatMap((place) => (place ? [place.log10Resistivity] : []));
  return (holes: readonly PlannedHole[]): number => {
    const boreholes = holes.map(({ chainage_m: x, depth_m }) => bank.drill(x, depth_m));
    const told = soilClasses({ ground, boreholes, places, middle: momentsOf(there) });
    let [wrong, all] = [0, 0];
    for (const [i, x] of chainage_m.entries()) {
      if (holes.some((hole) => Math.abs(hole.chainage_m - x) < SEEN_M)) continue;
      for (const k of places.keys()) {
        const chances = told?.classes.map(({ probability }) => probability[k]![i]!) ?? [];
        const kind = told?.classes[chances.indexOf(Math.max(...chances))]?.soil;
        all += 1;
        if (kind !== kinds[k]![i]) wrong += 1;
      }
    }
    return wrong / all;
  };
}

/**
 * The least share that moving one hole after the other along the bank comes to, the truth being
 * known: what no plan made before drilling can be asked for.
 */
export function hindsight(
  length_m: number,
  wrong: (holes: readonly PlannedHole[]) => number,
  start: readonly PlannedHole[],
): number {
  let [holes, least] = [[...start], wrong(start)];
  for (let round = 0; round < 2; round++) {
    for (const j of start.keys()) {
      for (let chainage_m = 20; chainage_m < length_m - 20; chainage_m += 40) {
        const moved = holes.with(j, { ...holes[j]!, chainage_m });
        const share = wrong(moved);
        if (share < least) [holes, least] = [moved, share];
      }
    }
  }
  return least;
}

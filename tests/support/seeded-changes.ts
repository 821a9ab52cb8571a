import { neighbours } from "../../lib/numerics/arrays.js";
import { seededRandom } from "../../lib/numerics/random.js";
import type { ChangedBody } from "../../lib/sections/change/section-change.js";
import { invertSection } from "../../lib/sections/invert-section.js";
import { sectionResponse } from "../../lib/sections/section-response.js";
import type { ResistivityLine } from "../../lib/survey/resistivity-line.js";
import { dipoleSpreads, electrodesAt, measuredAs, wennerSpreads } from "./electrode-lines.js";
import { seededGround } from "./seeded-sections.js";

const COUNT = 28;

/** A line of two campaigns between which a body of 3 × 2 m changed. */
export interface SeededChange {
  readonly line: ResistivityLine;
  readonly direction: ChangedBody["direction"];
  /** Middle along the line and top, m. */
  readonly x_m: number;
  readonly top_m: number;
}

/** Ratio of the change: down to 0.7 or up to 1.3; 1 leaves the ground as it is. */
export function seededChange(seed: number, noise: number, changes = true): SeededChange {
  const { ground } = seededGround(3 * seed);
  const random = seededRandom(seed + 77);
  const x_m = 5 + 17 * random.uniform();
  const top_m = 0.6 + 0.6 * random.uniform();
  const ratio = random.uniform() < 0.5 ? 0.7 : 1.3;
  const inside = (x: number, z: number) => Math.abs(x - x_m) < 1.5 && z > top_m && z < top_m + 2;
  const later = (x: number, z: number) => ground(x, z) * (changes && inside(x, z) ? ratio : 1);
  const one = lineOver(ground, { noise, seed: 2 * seed, campaign: "2031-10" });
  const two = lineOver(later, { noise, seed: 2 * seed + 1, campaign: "2032-03" });
  return {
    line: { ...one, readings: [...one.readings, ...two.readings] },
    direction: ratio < 1 ? "fell" : "rose",
    ...{ x_m, top_m },
  };
}

/** True where a body of the right direction meets the one that changed. */
export function isFoundBy({ x_m, top_m, direction }: SeededChange, body: ChangedBody): boolean {
  const along = body.from_m < x_m + 1.5 && body.to_m > x_m - 1.5;
  return along && body.top_m < top_m + 2 && body.base_m > top_m && body.direction === direction;
}

/** True where a cell in the body's middle differs by two standard deviations the right way. */
export async function differenceFinds({
  line,
  x_m,
  top_m,
  direction,
}: SeededChange): Promise<boolean> {
  const [earlier, later] = [
    (await invertSection(line, { campaign: "2031-10" })).value.cells,
    (await invertSection(line, { campaign: "2032-03", seed: 2 })).value.cells,
  ];
  const down = earlier.depth_m.length - 1;
  const sign = direction === "rose" ? 1 : -1;
  return earlier.log10Resistivity.some((before, cell) => {
    const [i, j] = [Math.floor(cell / down), cell % down];
    const x = (earlier.x_m[i]! + earlier.x_m[i + 1]!) / 2;
    const z = (earlier.depth_m[j]! + earlier.depth_m[j + 1]!) / 2;
    if (!(Math.abs(x - x_m) < 1.5 && z > top_m && z < top_m + 2)) return false;
    const sd = Math.hypot(earlier.log10Sd[cell]!, later.log10Sd[cell]!);
    return (later.log10Resistivity[cell]! - before) * sign > 2 * sd;
  });
}

function lineOver(
  ground: (x: number, z: number) => number,
  how: { readonly noise: number; readonly seed: number; readonly campaign: string },
): ResistivityLine {
  const electrodes = electrodesAt(COUNT);
  const spreads = [
    ...wennerSpreads(COUNT, [1, 2, 3, 4, 6, 8]),
    ...dipoleSpreads(COUNT, [1, 2, 3, 4, 5, 6]),
  ];
  const x_m = Array.from({ length: 3 * (COUNT + 9) }, (_, i) => -5 + i / 3 + 0.11);
  const depth_m = [0];
  for (let z = 0; z < 10; ) {
    z += 0.23 + 0.06 * z;
    depth_m.push(z);
  }
  const middles = (edges: readonly number[]) =>
    neighbours(edges).map(([from, to]) => (from + to) / 2);
  const resistivity_ohm_m = middles(depth_m).map((z) => middles(x_m).map((x) => ground(x, z)));
  const apparent_ohm_m = sectionResponse({ x_m, depth_m, resistivity_ohm_m }, electrodes, spreads, {
    cellsPerSpacing: 3.5,
  });
  return measuredAs({ electrodes, spreads, apparent_ohm_m, ...how });
}

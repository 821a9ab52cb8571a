import { chance } from "../random.js";
import type { Steps } from "./day.js";
import type { ErrorDraw } from "./realised.js";

/** What the satellite receiver wrote down, along the bank and across it; NaN where it is blank. */
export interface Positions {
  readonly chainage_m: Float64Array;
  readonly offset_m: Float64Array;
}

/** A walked line's distance from the centreline, positive to the left, m. */
export const LINE_OFFSET_M: Readonly<Record<string, number>> = Object.freeze({
  crest: 0,
  toe: -14,
});

/** Jitter resembles itself over this time, s. */
const ALIKE_S = 20;

export function recordedPositions(
  steps: Steps,
  walk: number,
  { seed, campaign, errors }: ErrorDraw,
): Positions {
  const { every_s, between, jitter_m, offset_m } = errors.gps;
  const random = chance(seed, `gps/${campaign}/${walk}`);
  const shift_m = offset_m * random.sign();
  const n = steps.time_s.length;
  const chainage_m = new Float64Array(n).fill(Number.NaN);
  const across_m = new Float64Array(n).fill(Number.NaN);
  const keep = Math.exp(-1 / ALIKE_S);
  let [along, aside] = [random.normal(), random.normal()];
  for (let i = 0; i < n; i++) {
    if (i % every_s === 0) {
      chainage_m[i] = steps.chainage_m[i]! + shift_m + jitter_m * along;
      across_m[i] = LINE_OFFSET_M[steps.line[i]!]! + jitter_m * aside;
    } else if (between === "held") {
      chainage_m[i] = chainage_m[i - 1]!;
      across_m[i] = across_m[i - 1]!;
    }
    along = keep * along + Math.sqrt(1 - keep * keep) * random.normal();
    aside = keep * aside + Math.sqrt(1 - keep * keep) * random.normal();
  }
  return { chainage_m, offset_m: across_m };
}

/** Blank positions in even steps from fix to fix of a line; beyond its last fix with the last step. */
export function bridged(positions: Positions, { line }: Pick<Steps, "line">): Positions {
  const along = positions.chainage_m.slice();
  const aside = positions.offset_m.slice();
  for (const name of new Set(line)) {
    const rows = [...line.keys()].filter((i) => line[i] === name);
    const fixes = rows.filter((i) => !Number.isNaN(positions.chainage_m[i]!));
    let next = 1;
    for (const i of rows) {
      while (next < fixes.length - 1 && fixes[next]! < i) next++;
      if (!Number.isNaN(positions.chainage_m[i]!)) continue;
      const [a, b] = [fixes[next - 1]!, fixes[next]!];
      for (const row of [along, aside])
        row[i] = row[a]! + ((i - a) / (b - a)) * (row[b]! - row[a]!);
    }
  }
  return { chainage_m: along, offset_m: aside };
}

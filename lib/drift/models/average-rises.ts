import type { AveragedDrift, StoryPull } from "./average-drift.js";
import type { DriftProcess } from "./drift-process.js";
import { dot } from "./drift-system.js";
import { type Rise, type Wandered, wanderBetween } from "./wander-fit.js";

type Wanders = ReadonlyMap<DriftProcess, Wandered>;

/** How much the drift rose from one time to each of others, over all stories. */
export function averagedRises(
  { frame, pulls }: AveragedDrift,
  from_s: number,
  times_s: readonly number[],
): readonly Rise[] {
  const processes = new Set(pulls.flatMap(({ parts }) => parts.map(({ process }) => process)));
  return times_s.map((to_s) => {
    const wanders: Wanders = new Map(
      Array.from(processes, (process) => {
        return [process, wanderBetween({ ...frame, process }, from_s, to_s)] as const;
      }),
    );
    return averagedRise(pulls, wanders, frame.data.length);
  });
}

function averagedRise(pulls: readonly StoryPull[], wanders: Wanders, n: number): Rise {
  let [mean, square] = [0, 0];
  const link = new Float64Array(n);
  for (const { parts, weight, pull, spread } of pulls) {
    const own = linkInto(link, parts, wanders);
    mean += dot(link, pull);
    square += weight * own - form(spread, link);
  }
  return { mean, sd: Math.sqrt(Math.max(0, square - mean * mean)) };
}

/** Writes the link of all parts together; their own variance. */
function linkInto(link: Float64Array, parts: StoryPull["parts"], wanders: Wanders): number {
  link.fill(0);
  let variance = 0;
  for (const { process, size } of parts) {
    const { link: unit, own } = wanders.get(process)!;
    for (let i = 0; i < link.length; i++) link[i]! += size * size * unit[i]!;
    variance += size * size * own;
  }
  return variance;
}

/** c'Sc. */
function form(matrix: Float64Array, c: Float64Array): number {
  const n = c.length;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    let row = 0;
    for (let j = 0; j < n; j++) row += matrix[i * n + j]! * c[j]!;
    sum += row * c[i]!;
  }
  return sum;
}

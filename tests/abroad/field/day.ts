import { type Profile, texture } from "../ground/profiles.js";
import { chance } from "../random.js";
import type { FieldErrors } from "./errors.js";

/** Where the coils were at each reading of one walk. */
export interface Steps {
  /** n times, s since 1970. */
  readonly time_s: readonly number[];
  /** n true chainages, m. */
  readonly chainage_m: readonly number[];
  /** n names of lines. */
  readonly line: readonly string[];
}

export interface Day {
  readonly start_s: number;
  readonly end_s: number;
  /** One entry a walk. */
  readonly walks: readonly Steps[];
  /** Times at which a visit to the fixed spot begins. */
  readonly visits_s: readonly number[];
}

export interface DayPlan {
  readonly seed: number;
  readonly start_s: number;
  readonly length_m: number;
  readonly walks: number;
  readonly lines: readonly string[];
  readonly checks: FieldErrors["checks"];
}

/** From the walk to the spot, the readings there, and back. */
const VISIT_S = 150;
export const VISIT_READINGS = Object.freeze({ regular: 12, sparse: 1, none: 0 });

/**
 * Readings a second apart at about 1 m/s, every second walk back, each line after the other. Regular
 * visits stand before, in the middle and after each line of each walk; sparse ones are three: before
 * all, in the middle of all, after all.
 */
export function fieldDay(plan: DayPlan): Day {
  const legs = legsOf(plan);
  const visits_s: number[] = [];
  const walks = Array.from({ length: plan.walks }, emptySteps);
  let now_s = plan.start_s;
  const visit = (at: number) => {
    if (!isVisited(plan.checks, at, legs.length)) return;
    visits_s.push(now_s + VISIT_S / 3);
    now_s += VISIT_S;
  };
  for (const [k, leg] of legs.entries()) {
    visit(k);
    now_s = walkLeg(plan, { ...leg, start_s: now_s }, walks[leg.walk]!);
  }
  visit(legs.length);
  return { start_s: plan.start_s, end_s: now_s, walks, visits_s };
}

function isVisited(checks: FieldErrors["checks"], at: number, legs: number): boolean {
  if (checks === "none") return false;
  return checks === "regular" || at === 0 || at === legs / 2 || at === legs;
}

interface Leg {
  readonly walk: number;
  readonly line: string;
  readonly from_m: number;
  readonly to_m: number;
}

/** Two halves of each line of each walk. */
function legsOf({ walks, lines, length_m }: DayPlan): readonly Leg[] {
  return Array.from({ length: walks }, (_, walk) => walk).flatMap((walk) =>
    lines.flatMap((line, l) => {
      const back = (walk * lines.length + l) % 2 === 1;
      const ends = [0.5, length_m / 2, length_m - 0.5];
      const [a, b, c] = (back ? ends.reverse() : ends) as [number, number, number];
      return [
        { walk, line, from_m: a, to_m: b },
        { walk, line, from_m: b, to_m: c },
      ];
    }),
  );
}

const emptySteps = () => ({
  time_s: [] as number[],
  chainage_m: [] as number[],
  line: [] as string[],
});

function walkLeg(
  plan: DayPlan,
  leg: Leg & { readonly start_s: number },
  into: ReturnType<typeof emptySteps>,
): number {
  const random = chance(plan.seed, `pace/${plan.start_s}/${leg.start_s}`);
  const pace: Profile = texture(random, { length_m: plan.length_m, correlation_m: 25 });
  const way = Math.sign(leg.to_m - leg.from_m);
  let now_s = leg.start_s;
  for (let at = leg.from_m; way * (leg.to_m - at) > 0; now_s++) {
    into.time_s.push(now_s);
    into.chainage_m.push(at);
    into.line.push(leg.line);
    at += way * (1 + 0.08 * pace(at));
  }
  return now_s;
}

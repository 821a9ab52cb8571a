import { itemAt, valueAt } from "../../numerics/arrays.js";
import { BoundQueue } from "./bound-queue.js";

/** A set that grows: what the next candidate adds, and adding it. */
export interface Growing {
  readonly gain: (candidate: number) => number;
  readonly take: (candidate: number) => void;
}

/** A monotone submodular gain over n candidates, each with a cost. */
export interface Choice {
  readonly cost: Float64Array;
  /** The empty set. */
  readonly start: () => Growing;
}

/** Null leaves a budget open; one of both is given. */
export interface Budget {
  readonly holes: number | null;
  readonly metres: number | null;
}

export interface Chosen {
  /** Candidates in the order in which they were taken. */
  readonly picked: readonly number[];
  readonly gain: number;
}

/**
 * The best of two greedy sets under a budget: by gain, and by gain per cost where at each step the
 * best single candidate that still fits is tried as the last one.
 *
 * Under a number of holes alone, the first is within 1 − 1/e of the best; under a cost, the second
 * is within one half, and in practice far nearer. Sources: Nemhauser, Wolsey & Fisher 1978;
 * Yaroslavtsev, Zhou & Avdiukhin 2020 (greedy and best single); Minoux 1978 (lazy evaluation).
 */
export function greedyChoice(choice: Choice, budget: Budget): Chosen {
  const byGain = grown(choice, budget, () => 1);
  if (budget.metres === null) return byGain;
  const perCost = grown(choice, budget, (i) => valueAt(choice.cost, i));
  const best = [byGain, perCost, ...withLastOnes(choice, budget, perCost.picked)];
  return best.reduce((one, other) => (other.gain > one.gain * (1 + 1e-12) ? other : one));
}

/** A gain below this share of the first one is rounding. */
const NOTHING = 1e-9;

function grown(choice: Choice, budget: Budget, per: (candidate: number) => number): Chosen {
  const set = choice.start();
  const queue = new BoundQueue(choice.cost.map((_, i) => set.gain(i) / per(i)));
  const least = NOTHING * queue.most;
  const picked: number[] = [];
  let gain = 0;
  let left: Left = budget;
  for (;;) {
    const next = lazyBest(queue, (i) => (fits(choice, left, i) ? set.gain(i) / per(i) : 0));
    if (next === null || !(next.bound > least)) return { picked, gain };
    const { candidate, bound } = next;
    gain += bound * per(candidate);
    picked.push(candidate);
    left = without(choice, left, candidate);
    set.take(candidate);
  }
}

/**
 * Gains only fall as the set grows: an old one that is still the greatest need not be looked for.
 * What is found leaves the queue; null where nothing gains.
 */
function lazyBest(queue: BoundQueue, now: (candidate: number) => number) {
  while (!queue.isEmpty) {
    const was = queue.most;
    const candidate = queue.take();
    const bound = now(candidate);
    if (bound >= was * (1 - 1e-12) || queue.wouldBeFirst(candidate, bound)) {
      return { candidate, bound };
    }
    queue.put(candidate, bound);
  }
  return null;
}

/** The first of the greatest values above 0; −1 without any. */
function indexOfMost(values: Float64Array): number {
  let [at, most] = [-1, 0];
  for (let i = 0; i < values.length; i++) {
    if (valueAt(values, i) > most) [at, most] = [i, valueAt(values, i)];
  }
  return at;
}

type Left = Budget;

function fits({ cost }: Choice, { holes, metres }: Left, candidate: number): boolean {
  const enough = metres === null || valueAt(cost, candidate) <= metres + 1e-9;
  return enough && (holes === null || holes >= 1);
}

function without({ cost }: Choice, { holes, metres }: Left, candidate: number): Left {
  return {
    holes: holes === null ? null : holes - 1,
    metres: metres === null ? null : metres - valueAt(cost, candidate),
  };
}

/** Each beginning of a set with the best single candidate that still fits. */
function withLastOnes(choice: Choice, budget: Budget, picked: readonly number[]): Chosen[] {
  const set = choice.start();
  let [gain, left] = [0, budget];
  return [...picked, -1].map((next, k) => {
    const gains = choice.cost.map((_, i) => (fits(choice, left, i) ? set.gain(i) : 0));
    const last = indexOfMost(gains);
    const before = picked.slice(0, k);
    const found: Chosen =
      last < 0
        ? { picked: before, gain }
        : { picked: [...before, last], gain: gain + valueAt(gains, last) };
    if (next >= 0) {
      gain += set.gain(next);
      set.take(next);
      left = without(choice, left, next);
    }
    return found;
  });
}

/** What a set of candidates gains, taken in any order. */
export function gainOf({ start }: Choice, picked: readonly number[]): number {
  const set = start();
  let sum = 0;
  for (const candidate of picked) {
    sum += set.gain(candidate);
    set.take(candidate);
  }
  return sum;
}

/** The same set in the order in which each adds most. */
export function byFallingGain(choice: Choice, picked: readonly number[]): readonly number[] {
  const chosen: Choice = {
    cost: Float64Array.from(picked, () => 1),
    start: () => {
      const set = choice.start();
      const at = (k: number) => itemAt(picked, k);
      return { gain: (k) => set.gain(at(k)), take: (k) => set.take(at(k)) };
    },
  };
  const order = grown(chosen, { holes: picked.length, metres: null }, () => 1).picked;
  return order.map((k) => itemAt(picked, k));
}

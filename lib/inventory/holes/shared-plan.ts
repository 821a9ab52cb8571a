import { type Choice, greedyChoice } from "../../boreholes/siting/greedy.js";
import { sitingDefaults } from "../../boreholes/siting/options.js";
import { itemAt, valueAt } from "../../numerics/arrays.js";
import type { OfferedRecord } from "../record/reach-record.js";

/** A hole that a reach offers, with the ground of the block that it stands in. */
export interface OfferedHole extends OfferedRecord {
  readonly reach: string;
  /** The class over all reaches of the block that the hole meets; null off the blocks. */
  readonly class: string | null;
  /** What the seepage part counts for under the weights of all reaches, of the reach's own. */
  readonly seepageFactor: number;
}

/** Ground of one class over all reaches. */
export interface ClassGround {
  readonly name: string;
  /** Length of bank of the class, m. */
  readonly length_m: number;
  /** Existing boreholes that stand in it. */
  readonly drilled: number;
}

export interface HoleBudget {
  readonly holes: number | null;
  readonly metres: number | null;
}

export interface SharedHole {
  readonly hole: OfferedHole;
  /** 1 is drilled first. */
  readonly priority: number;
  /**
   * What it adds to those of higher priority, m of bank as weighed, and how much of it by its
   * class.
   */
  readonly adds_m: number;
  readonly class_m: number;
}

/**
 * Where to drill first in a whole inventory, under one budget. A hole's gain is what it adds in its
 * own reach to the holes that the reach asks for before it (a lower bound, whatever else is
 * chosen), and what it tells of its class of ground, which all reaches share: of `weights.class`
 * times the class's length the n-th hole in a class leaves 1/(n + 1), the share of variance that n
 * samples leave of a level known beforehand as well as by one sample. Both are monotone and
 * submodular, so that the greedy choice is within 1 − 1/e of the best under a number of holes.
 *
 * Source: Nemhauser, Wolsey & Fisher 1978; Yaroslavtsev, Zhou & Avdiukhin 2020.
 */
export function sharedPlan(
  offered: readonly OfferedHole[],
  ground: readonly ClassGround[],
  budget: HoleBudget,
): readonly SharedHole[] {
  const own = Float64Array.from(offered, ownGain);
  const choice: Choice = {
    cost: Float64Array.from(offered, ({ depth_m }) => depth_m),
    start: () => growing(offered, ground, own),
  };
  const { picked } = greedyChoice(choice, budget);
  const set = choice.start();
  const ordered = picked.map((i) => {
    const adds_m = set.gain(i);
    set.take(i);
    return { hole: itemAt(offered, i), adds_m, class_m: adds_m - valueAt(own, i) };
  });
  return ordered.map((one, k) => ({ ...one, priority: k + 1 }));
}

function ownGain({ adds_m, seepageFactor }: OfferedHole): number {
  return Object.entries(adds_m).reduce((sum, [part, gain]) => {
    return sum + gain * (part === "seepage" ? seepageFactor : 1);
  }, 0);
}

function growing(
  offered: readonly OfferedHole[],
  ground: readonly ClassGround[],
  own: Float64Array,
) {
  const worth = new Map(
    ground.map(({ name, length_m }) => [name, sitingDefaults.weights.class * length_m]),
  );
  const holes = new Map(ground.map(({ name, drilled }) => [name, drilled]));
  const taken = new Set<number>();
  const classGain = (name: string | null) => {
    const n = holes.get(name ?? "");
    return n === undefined ? 0 : (worth.get(name ?? "") ?? 0) / ((n + 1) * (n + 2));
  };
  return {
    gain: (i: number) =>
      taken.has(i) ? 0 : valueAt(own, i) + classGain(crestClass(itemAt(offered, i))),
    take: (i: number) => {
      taken.add(i);
      const name = crestClass(itemAt(offered, i));
      if (name !== null) holes.set(name, (holes.get(name) ?? 0) + 1);
    },
  };
}

/** A hole at the toe does not meet the bank's ground. */
const crestClass = ({ place, class: name }: OfferedHole) => (place === "crest" ? name : null);

import { describe, expect, it } from "vitest";
import {
  type Budget,
  byFallingGain,
  type Choice,
  gainOf,
  greedyChoice,
} from "../../../lib/boreholes/siting/greedy.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { expectClose } from "../../support/expect-close.js";

/** Random places that tell cells by nearness, and targets that the first to meet them settles. */
function randomChoice(seed: number, n = 12): Choice {
  const random = seededRandom(seed);
  const cells = Array.from({ length: 25 }, () => random.uniform());
  const at = Array.from({ length: n }, () => random.uniform());
  const range = 0.03 + 0.2 * random.uniform();
  const share = at.map((x) => cells.map((cell) => Math.exp(-Math.abs(cell - x) / range)));
  const targets = Array.from({ length: 6 }, () => {
    const [middle, half] = [random.uniform(), 0.15 * random.uniform()];
    return { worth: 8 * random.uniform(), met: at.map((x) => Math.abs(x - middle) <= half) };
  });
  return {
    cost: Float64Array.from({ length: n }, () => 3 + 6 * random.uniform()),
    start: () => {
      const told = cells.map(() => 0);
      const done = targets.map(() => false);
      return {
        gain: (i) =>
          share[i]!.reduce((sum, one, c) => sum + Math.max(0, one - told[c]!), 0) +
          targets.reduce((sum, { worth, met }, t) => sum + (met[i] && !done[t] ? worth : 0), 0),
        take: (i) => {
          share[i]!.forEach((one, c) => {
            told[c] = Math.max(told[c]!, one);
          });
          targets.forEach(({ met }, t) => {
            if (met[i]) done[t] = true;
          });
        },
      };
    },
  };
}

/** The best set of all that fit. */
function exhaustive(choice: Choice, { holes, metres }: Budget): number {
  const n = choice.cost.length;
  let best = 0;
  for (let set = 0; set < 2 ** n; set++) {
    const picked = Array.from({ length: n }, (_, i) => i).filter((i) => (set >> i) & 1);
    if (picked.length > (holes ?? n)) continue;
    const cost = picked.reduce((sum, i) => sum + choice.cost[i]!, 0);
    if (cost > (metres ?? Number.POSITIVE_INFINITY)) continue;
    best = Math.max(best, gainOf(choice, picked));
  }
  return best;
}

describe("the greedy choice", () => {
  // 1 − 1/e is proved for a number of holes; for metres one half is, and 0.63 is what is asked of it.
  it.each([
    ["4 holes", { holes: 4, metres: null }],
    ["18 m", { holes: null, metres: 18 }],
    ["18 m in 3 holes", { holes: 3, metres: 18 }],
  ])("gains 0.63 of the best or more under %s, and usually over 0.95", (_, budget) => {
    const shares = Array.from({ length: 40 }, (_one, k) => {
      const choice = randomChoice(1000 + k);
      return greedyChoice(choice, budget).gain / exhaustive(choice, budget);
    });
    expect(Math.min(...shares)).toBeGreaterThanOrEqual(1 - 1 / Math.E);
    expect(Math.max(...shares)).toBeLessThanOrEqual(1 + 1e-9);
    expect(shares.filter((share) => share > 0.95).length).toBeGreaterThan(30);
  });

  it("says the gain of what it picked, within its budget, each once", () => {
    for (const budget of [
      { holes: 5, metres: null },
      { holes: null, metres: 20 },
      { holes: 2, metres: 20 },
    ]) {
      const choice = randomChoice(3);
      const { picked, gain } = greedyChoice(choice, budget);
      expectClose(gain, gainOf(choice, picked), { absolute: 1e-9 });
      expect(new Set(picked).size).toBe(picked.length);
      expect(picked.length).toBeLessThanOrEqual(budget.holes ?? 99);
      const cost = picked.reduce((sum, i) => sum + choice.cost[i]!, 0);
      expect(cost).toBeLessThanOrEqual(budget.metres ?? Number.POSITIVE_INFINITY);
    }
  });

  it("is the plain greedy set, found with fewer looks", () => {
    const choice = randomChoice(9, 40);
    let looks = 0;
    const counted: Choice = {
      cost: choice.cost,
      start: () => {
        const set = choice.start();
        return {
          gain: (i) => {
            looks += 1;
            return set.gain(i);
          },
          take: set.take,
        };
      },
    };
    const lazy = greedyChoice(counted, { holes: 8, metres: null }).picked;
    const set = choice.start();
    const plain = Array.from({ length: 8 }, () => {
      const gains = Array.from(choice.cost, (_one, i) => set.gain(i));
      const best = gains.indexOf(Math.max(...gains));
      set.take(best);
      return best;
    });
    expect(lazy).toEqual(plain);
    expect(looks).toBeLessThan(8 * 40);
  });

  it("takes one dear hole where it is worth more than all cheap ones", () => {
    const worth = [10, 1];
    const choice: Choice = {
      cost: Float64Array.of(10, 0.5),
      start: () => {
        const taken = new Set<number>();
        return {
          gain: (i) => (taken.has(i) ? 0 : worth[i]!),
          take: (i) => taken.add(i),
        };
      },
    };
    // Per metre the second comes first, and then the first no longer fits.
    expect(greedyChoice(choice, { holes: null, metres: 10 }).picked).toEqual([0]);
  });

  it("picks nothing where nothing fits, and stops where nothing is gained", () => {
    expect(greedyChoice(randomChoice(1), { holes: null, metres: 1 }).picked).toEqual([]);
    const nothing: Choice = {
      cost: Float64Array.of(1),
      start: () => ({ gain: () => 0, take() {} }),
    };
    expect(greedyChoice(nothing, { holes: 3, metres: null }).picked).toEqual([]);
  });

  it("orders a set by what each adds", () => {
    const choice = randomChoice(4);
    const order = byFallingGain(choice, [2, 5, 7]);
    const set = choice.start();
    const adds = order.map((i) => {
      const gain = set.gain(i);
      set.take(i);
      return gain;
    });
    expect([...order].sort((a, b) => a - b)).toEqual([2, 5, 7]);
    expect(adds).toEqual([...adds].sort((a, b) => b - a));
  });
});

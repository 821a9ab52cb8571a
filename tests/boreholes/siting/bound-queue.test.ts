import { describe, expect, it } from "vitest";
import { BoundQueue } from "../../../lib/boreholes/siting/bound-queue.js";
import { seededRandom } from "../../../lib/numerics/random.js";

/** The first of the greatest bounds above 0, looked for one by one; −1 without any. */
function firstOfGreatest(bounds: readonly number[]): number {
  const most = Math.max(0, ...bounds);
  return most > 0 ? bounds.indexOf(most) : -1;
}

describe("the queue of bounds", () => {
  it("gives the first of the greatest, as looking through all of them does", () => {
    const random = seededRandom(20261201);
    // Few distinct values, so that most bounds have equals; some gain nothing.
    const bounds = Array.from({ length: 60 }, () => random.integer(9));
    const queue = new BoundQueue(Float64Array.from(bounds));
    for (let round = 0; round < 400; round++) {
      const first = firstOfGreatest(bounds);
      expect(queue.isEmpty).toBe(first < 0);
      expect(queue.most).toBe(first < 0 ? 0 : bounds[first]);
      if (first < 0) break;
      expect(queue.take()).toBe(first);
      const lower = random.integer(bounds[first]! + 1);
      bounds[first] = lower;
      expect(queue.wouldBeFirst(first, lower)).toBe(firstOfGreatest(bounds) === first);
      queue.put(first, lower);
    }
    expect(queue.isEmpty).toBe(true);
  });

  it("holds nothing that gains nothing, or that is missing", () => {
    const queue = new BoundQueue(Float64Array.of(0, Number.NaN, -1, 2));
    expect(queue.take()).toBe(3);
    expect(queue.isEmpty).toBe(true);
    expect(queue.wouldBeFirst(3, 0)).toBe(false);
  });
});

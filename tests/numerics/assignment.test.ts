import { describe, expect, it } from "vitest";
import { greatestAssignment } from "../../lib/numerics/assignment.js";
import { seededRandom } from "../../lib/numerics/random.js";
import { expectClose } from "../support/expect-close.js";

/** The greatest total over every assignment, tried one by one. */
function bruteForce(gain: readonly (readonly number[])[], taken: readonly number[] = []): number {
  const row = taken.length;
  if (row === gain.length) return 0;
  const skip = bruteForce(gain, [...taken, -1]);
  return (gain[row] ?? []).reduce((best, value, column) => {
    if (taken.includes(column)) return best;
    return Math.max(best, value + bruteForce(gain, [...taken, column]));
  }, skip);
}

describe("greatestAssignment", () => {
  it("gains as much as the best of all assignments, each column once", () => {
    const random = seededRandom(17);
    for (let trial = 0; trial < 200; trial++) {
      const [rows, columns] = [1 + random.integer(5), 1 + random.integer(5)];
      const gain = Array.from({ length: rows }, () =>
        Array.from({ length: columns }, () => random.uniform() - 0.3),
      );
      const found = greatestAssignment(gain);
      const used = found.filter((column) => column >= 0);
      expect(new Set(used).size).toBe(used.length);
      const total = found.reduce((sum, column, row) => sum + (gain[row]![column] ?? 0), 0);
      expectClose(total, bruteForce(gain), { absolute: 1e-12 });
    }
  });

  it("leaves alone what would gain nothing", () => {
    expect(greatestAssignment([[-1, 0]])).toEqual([-1]);
    expect(greatestAssignment([])).toEqual([]);
    expect(greatestAssignment([[], []])).toEqual([-1, -1]);
    expect(greatestAssignment([[3], [5]])).toEqual([-1, 0]);
  });
});

import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../lib/numerics/random.js";
import { pettitt } from "../../../lib/numerics/statistics/pettitt.js";
import { nileFlow } from "../../blocks/cut/nile.js";
import { expectClose } from "../../support/expect-close.js";

const numbers = (n: number) => Array.from({ length: n }, (_, i) => i);

describe("pettitt", () => {
  it("finds the break of the Nile after 1898", () => {
    const found = pettitt(nileFlow);
    expect([found.K, found.at]).toEqual([1617, 28]);
    // 2 exp(−6 × 1617² / (100³ + 100²)) by hand.
    expectClose(found.p, 3.59e-7, { relative: 0.01 });
  });

  it("equals the double sum of its definition", () => {
    const random = seededRandom(5);
    for (let run = 0; run < 20; run++) {
      const x = numbers(12).map(() => Math.round(3 * random.normal()));
      let K = 0;
      for (let t = 1; t < 12; t++) {
        let U = 0;
        for (let i = 0; i < t; i++) for (let j = t; j < 12; j++) U += Math.sign(x[i]! - x[j]!);
        K = Math.max(K, Math.abs(U));
      }
      expect(pettitt(x).K).toBe(K);
    }
    expect(pettitt([4]).p).toBe(1);
  });

  it("refuses a missing value", () => {
    expect(() => pettitt([1, Number.NaN])).toThrow("values[1] must be a number, got NaN");
  });
});

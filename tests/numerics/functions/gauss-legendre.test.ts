import { describe, expect, it } from "vitest";
import { gaussLegendre } from "../../../lib/numerics/functions/gauss-legendre.js";
import { expectClose } from "../../support/expect-close.js";

const integral = (n: number, f: (x: number) => number) => {
  const { node, weight } = gaussLegendre(n);
  return node.reduce((sum, x, i) => sum + weight[i]! * f(x), 0);
};

describe("gaussLegendre", () => {
  it("gives the published nodes and weights", () => {
    // Abramowitz & Stegun 1964, table 25.4.
    const two = gaussLegendre(2);
    expectClose(two.node[1]!, 0.5773502691896257, { absolute: 1e-15 });
    const five = gaussLegendre(5);
    expectClose(five.node[4]!, 0.906179845938664, { absolute: 1e-15 });
    expectClose(five.weight[4]!, 0.2369268850561891, { absolute: 1e-15 });
    expectClose(five.weight[2]!, 0.5688888888888889, { absolute: 1e-15 });
    expect(five.node[2]).toBe(0);
  });

  it("is exact for every power up to 2n − 1", () => {
    for (const n of [1, 2, 3, 8, 33, 64]) {
      for (const power of [0, 2 * n - 2, 2 * n - 1]) {
        const exact = power % 2 === 1 ? 0 : 2 / (power + 1);
        expectClose(
          integral(n, (x) => x ** power),
          exact,
          { absolute: 1e-14 },
        );
      }
    }
  });

  it("refuses a number of points that is not one", () => {
    expect(() => gaussLegendre(0)).toThrow("n must be 1 or above, got 0");
  });
});

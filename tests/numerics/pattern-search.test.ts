import { describe, expect, it } from "vitest";
import { patternSearch } from "../../lib/numerics/pattern-search.js";
import { expectClose } from "../support/expect-close.js";

const options = { step: 0.5, enough: 1e-6, evaluations: 20_000 };

describe("patternSearch", () => {
  it("finds the least of Rosenbrock's valley, at (1, 1)", () => {
    // Rosenbrock 1960: (1 − x)² + 100 (y − x²)².
    const valley = ([x, y]: Float64Array) => (1 - x!) ** 2 + 100 * (y! - x! ** 2) ** 2;
    const found = patternSearch(valley, [-1.2, 1], options);
    for (const value of found.at) expectClose(value, 1, { absolute: 1e-3 });
  });

  it("never goes where the function is not a number", () => {
    const walled = ([x]: Float64Array) => (x! > 2 ? Number.NaN : (x! - 3) ** 2);
    const found = patternSearch(walled, [0], options);
    expectClose(found.at[0]!, 2, { absolute: 1e-5 });
  });

  it("stops at its allowance and leaves the start as it was", () => {
    const start = Float64Array.of(100);
    const found = patternSearch(([x]) => x! ** 2, start, { ...options, evaluations: 7 });
    expect(found.evaluations).toBeLessThanOrEqual(9);
    expect(start[0]).toBe(100);
  });
});

import { describe, expect, it } from "vitest";
import { coherenceOf } from "../../../lib/interference/metal/coherence.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { expectClose } from "../../support/expect-close.js";

describe("coherenceOf", () => {
  const spectrum = Float64Array.of(3, -1, 2, 0.5);
  const times = (factor: number) => spectrum.map((one) => factor * one);

  it("is 1 for one spectrum, larger, smaller or turned over", () => {
    expectClose(coherenceOf([times(1), times(-2), times(0.3)]), 1, { absolute: 1e-12 });
  });

  it("is one half for two readings at right angles of equal size", () => {
    const across = [Float64Array.of(2, 0), Float64Array.of(0, 2)];
    expectClose(coherenceOf(across), 0.5, { absolute: 1e-12 });
  });

  it("is the largest eigenvalue's share: 9 of 10 for the matrix 5 4, 4 5", () => {
    // Rows a, b with a·a = b·b = 5 and a·b = 4 have eigenvalues 9 and 1.
    const rows = [Float64Array.of(2, 1), Float64Array.of(1, 2)];
    expectClose(coherenceOf(rows), 0.9, { absolute: 1e-9 });
  });

  it("lies near one half for noise of five readings in ten channels", () => {
    const random = seededRandom(8);
    const shares = Array.from({ length: 200 }, () =>
      coherenceOf(
        Array.from({ length: 5 }, () => Float64Array.from({ length: 10 }, random.normal)),
      ),
    );
    const mean = shares.reduce((sum, one) => sum + one, 0) / shares.length;
    // Marchenko & Pastur's edge, (1/√5 + 1/√10)² = 0.58, is not passed on average.
    expect(mean).toBeLessThan(0.58);
    expect(mean).toBeGreaterThan(0.35);
    expect(shares.filter((one) => one > 0.65).length).toBeLessThan(6);
  });

  it("cannot be told where nothing moves", () => {
    expect(coherenceOf([new Float64Array(3), new Float64Array(3)])).toBeNaN();
  });
});

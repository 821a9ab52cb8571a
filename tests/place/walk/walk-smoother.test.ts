import { describe, it } from "vitest";
import { choleskyFactor, choleskySolve } from "../../../lib/numerics/algebra/cholesky.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { smoothWalk, WALKING } from "../../../lib/place/walk/walk-smoother.js";
import { expectClose } from "../../support/expect-close.js";

/** Covariance of the integral of a stationary Ornstein–Uhlenbeck velocity from 0 to s and to t. */
function coveredTogether(s: number, t: number): number {
  const { speedSd_m_per_s: sd, keeps_s: tau } = WALKING;
  const e = (x: number) => Math.exp(-x / tau);
  const cross = tau * tau * (e(s) + e(t) - 1 - e(Math.abs(t - s)));
  return sd * sd * (2 * tau * Math.min(s, t) + cross);
}

describe("smoothWalk", () => {
  it("gives what the dense solution of the same Gaussian process gives", () => {
    const random = seededRandom(7);
    const time_s = Float64Array.of(0, 1, 2, 2.5, 4, 9, 10, 30, 31, 31.2);
    const n = time_s.length;
    const variance_m2 = Float64Array.from(time_s, (_, i) => (i === 5 ? Infinity : 0.04 + 0.1 * i));
    const x_m = Float64Array.from(time_s, (t) => 1.2 * t + random.normal());
    const y_m = Float64Array.from(time_s, () => random.normal());
    const smooth = smoothWalk({ time_s, x_m, y_m, variance_m2 });
    // The filter starts at the first position with a variance of 1e4 m²: so does the process here.
    const prior = (i: number, j: number) => 1e4 + coveredTogether(time_s[i]!, time_s[j]!);
    const rows = [...time_s.keys()].filter((i) => i !== 5);
    const m = rows.length;
    const matrix = new Float64Array(m * m);
    for (const [a, i] of rows.entries()) {
      for (const [b, j] of rows.entries())
        matrix[a * m + b] = prior(i, j) + (i === j ? variance_m2[i]! : 0);
    }
    const factor = choleskyFactor(matrix, m);
    for (const [values, found] of [
      [x_m, smooth.x_m],
      [y_m, smooth.y_m],
    ] as const) {
      const weights = choleskySolve(
        factor,
        m,
        Float64Array.from(rows, (i) => values[i]! - values[0]!),
      );
      for (let i = 0; i < n; i++) {
        const dense = values[0]! + rows.reduce((sum, j, b) => sum + prior(i, j) * weights[b]!, 0);
        // Variances of 1e4 against some 0.01 leave about ten of the sixteen digits.
        expectClose(found[i]!, dense, { absolute: 1e-5 });
      }
    }
    for (let i = 0; i < n; i++) {
      const solved = choleskySolve(
        factor,
        m,
        Float64Array.from(rows, (j) => prior(i, j)),
      );
      const variance = prior(i, i) - rows.reduce((sum, j, b) => sum + prior(i, j) * solved[b]!, 0);
      expectClose(smooth.sd_m[i]! ** 2, variance, { absolute: 1e-5, relative: 1e-4 });
    }
  });

  it("is the same walk seen backwards", () => {
    const random = seededRandom(8);
    const n = 40;
    const time_s = Float64Array.from({ length: n }, (_, i) => i * 0.7);
    const x_m = time_s.map((t) => t + 0.5 * random.normal());
    const y_m = time_s.map((t) => -0.3 * t + 0.5 * random.normal());
    const variance_m2 = new Float64Array(n).fill(0.25);
    const forward = smoothWalk({ time_s, x_m, y_m, variance_m2 });
    const backward = smoothWalk({
      time_s: time_s.map((_, i) => time_s[n - 1]! - time_s[n - 1 - i]!),
      x_m: x_m.toReversed(),
      y_m: y_m.toReversed(),
      variance_m2,
    });
    // The vague start weighs 1e4 m² at the other end; it moves nothing by more than this.
    for (let i = 0; i < n; i++) {
      expectClose(backward.x_m[n - 1 - i]!, forward.x_m[i]!, { absolute: 1e-3 });
    }
  });
});

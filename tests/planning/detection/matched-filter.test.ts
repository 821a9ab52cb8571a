import { describe, expect, it } from "vitest";
import { choleskyFactor, forwardSolve } from "../../../lib/numerics/algebra/cholesky.js";
import { dot } from "../../../lib/numerics/algebra/dot.js";
import { firstOf, zipped } from "../../../lib/numerics/arrays.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { matchedFilter, type Scene } from "../../../lib/planning/detection/matched-filter.js";
import { expectClose } from "../../support/expect-close.js";

/** The same by one dense covariance of all readings, the free levels as a huge variance. */
function dense({ channels, ground, correlation }: Scene): number {
  const c = channels.length;
  const n = firstOf(channels).signal.length;
  const size = c * n;
  const covariance = new Float64Array(size * size);
  for (let p = 0; p < size; p++) {
    for (let q = 0; q < size; q++) {
      const [a, i, b, j] = [Math.floor(p / n), p % n, Math.floor(q / n), q % n];
      let value = ground[a * c + b]! * Math.exp(-Math.abs(i - j) / correlation);
      if (a === b) value += 1e6;
      if (p === q) value += channels[a]!.noise ** 2;
      covariance[p * size + q] = value;
    }
  }
  const all = Float64Array.from(channels.flatMap(({ signal }) => [...signal]));
  const half = forwardSolve(choleskyFactor(covariance, size), size, all);
  return Math.sqrt(half.reduce((sum, value) => sum + value * value, 0));
}

function scene(seed: number): Scene {
  const random = seededRandom(seed);
  const channels = [0.5, 1, 2].map((noise) => ({
    signal: Float64Array.from({ length: 12 }, () => random.normal()),
    noise,
  }));
  const root = Float64Array.from({ length: 9 }, () => 2 * random.normal());
  const ground = Float64Array.from({ length: 9 }, (_, at) => {
    const [a, b] = [Math.floor(at / 3) * 3, (at % 3) * 3];
    return root[a]! * root[b]! + root[a + 1]! * root[b + 1]! + root[a + 2]! * root[b + 2]!;
  });
  return { channels, ground, correlation: 4 };
}

describe("matchedFilter", () => {
  it("gives what the whole covariance gives", () => {
    for (const seed of [1, 2, 3]) {
      // The levels' variance of 1e6 leaves them nearly free: relative 1e-5.
      expectClose(matchedFilter(scene(seed)).detectability, dense(scene(seed)), { relative: 1e-4 });
    }
  });

  it("is the signal about its mean over the noise where the ground is even", () => {
    const one = scene(4);
    const { detectability } = matchedFilter({ ...one, ground: new Float64Array(9) });
    const squares = one.channels.map(({ signal, noise }) => {
      const mean = signal.reduce((sum, value) => sum + value, 0) / signal.length;
      return signal.reduce((sum, value) => sum + ((value - mean) / noise) ** 2, 0);
    });
    const expected = Math.sqrt(squares.reduce((sum, value) => sum + value, 0));
    expectClose(detectability, expected, { relative: 1e-12 });
  });

  it("answers the signal with its detectability, and a level with nothing", () => {
    const one = scene(5);
    const { detectability, weights } = matchedFilter(one);
    const answer = (rows: readonly Float64Array[]) =>
      zipped(weights, rows).reduce((sum, [weight, row]) => sum + dot(weight, row), 0);
    const signals = one.channels.map(({ signal }) => signal);
    expectClose(answer(signals), detectability, { relative: 1e-10 });
    const level = signals.map((row, a) => row.map(() => 100 * (a + 1)));
    expectClose(answer(level), 0, { absolute: 1e-8 });
  });

  it("never sees less with one more channel", () => {
    const one = scene(6);
    const two = { ...one, channels: one.channels.slice(0, 2) };
    const ground = Float64Array.from([0, 1, 3, 4].map((at) => one.ground[at]!));
    const fewer = matchedFilter({ ...two, ground }).detectability;
    expect(matchedFilter(one).detectability).toBeGreaterThanOrEqual(fewer);
  });
});

import { describe, expect, it } from "vitest";
import { errorEffects } from "../../../lib/depth/slices/error-effects.js";
import { expectClose } from "../../support/expect-close.js";

/** Two layers, three channels; the first two are of one walk. */
const byReading = [Float64Array.of(1, 0, 0, 0, 2, -4)];
const byHeight = [Float64Array.of(-1, -2, 5)];
const setup = {
  errors: {
    gain: Float64Array.of(0.1, 0.1, 0.1),
    zero: Float64Array.of(0, 0, 0.3),
    drift: new Float64Array(3),
  },
  walk: Int32Array.of(0, 0, 1),
  walks: 2,
  heightSd_m: 0.01,
};
const effects = (weights: Float64Array) => errorEffects({ byReading, byHeight }, setup, weights);
const log10OfLn = (ln: number) => ln / Math.LN10;

describe("errorEffects", () => {
  it("adds the channels' own errors by their squares", () => {
    const { gain, zero, drift } = effects(Float64Array.of(0, 1));
    expectClose(gain, log10OfLn(Math.hypot(0.2, 0.4)), { absolute: 1e-12 });
    expectClose(zero, log10OfLn(4 * 0.3), { absolute: 1e-12 });
    expect(drift).toBe(0);
  });

  it("adds what the coils' height does to one walk's channels before it squares them", () => {
    // Half of each layer: 0.5, 1 and −2 by reading.
    const { height } = effects(Float64Array.of(0.5, 0.5));
    const walks = [0.5 * -0.01 + 1 * -0.02, -2 * 0.05];
    expectClose(height, log10OfLn(Math.hypot(...walks)), { absolute: 1e-12 });
  });

  it("takes the median over the columns that it is known at", () => {
    const twice = { byReading: [...byReading, ...byReading, byReading[0]!.map((v) => 100 * v)] };
    const { gain } = errorEffects(
      { ...twice, byHeight: [byHeight[0]!, byHeight[0]!, byHeight[0]!] },
      setup,
      Float64Array.of(0, 1),
    );
    expectClose(gain, effects(Float64Array.of(0, 1)).gain, { absolute: 1e-12 });
  });
});

import { describe, expect, it } from "vitest";
import { maskInterference } from "../../../lib/interference/mask-interference.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { quantile } from "../../../lib/numerics/statistics/robust.js";
import type { Campaign } from "../../../lib/survey/survey.js";
import { disturbed, type Metal, scatterSd } from "../../support/disturbed.js";

interface Effect {
  readonly chainage_m: number;
  /** Root mean square over the channels, in scatters of undisturbed readings. */
  readonly size: number;
  readonly aside: boolean;
}

/** What metal does to each reading: the same survey with and without it. */
function effects(masked: Campaign, without: Campaign): readonly Effect[] {
  return masked.passes.flatMap((pass, p) =>
    Array.from(pass.chainage_m, (chainage_m, i): Effect => {
      const squares = pass.values.map((column, c) => {
        const clean = without.passes[p]!.values[c]![i]!;
        return ((column[i]! - clean) / scatterSd(pass.instrument.channels[c]!, clean)) ** 2;
      });
      const size = Math.sqrt(squares.reduce((sum, one) => sum + one, 0) / squares.length);
      return { chainage_m, size, aside: pass.setAside[0]![i] !== 0 };
    }),
  );
}

/** Seeds that no option was chosen on. */
const HELD_OUT = 40_000;

function rimsOf(k: number) {
  const random = seededRandom(HELD_OUT + k);
  const metal = [60, 150, 250, 340].map(
    (at_m): Metal => ({ at_m: at_m + 10 * random.uniform(), size: 3 + 15 * random.uniform() }),
  );
  const sketch = { seed: HELD_OUT + k, orientations: [k % 2 === 0 ? "HCP" : "VCP"] } as const;
  const { value } = maskInterference(disturbed({ ...sketch, metal }));
  const none = metal.map((one) => ({ ...one, size: 1e-9 }));
  const all = effects(value, disturbed({ ...sketch, metal: none }));
  return metal.flatMap(({ at_m }) => {
    const stretch = value.interference.find((one) => one.from_m <= at_m && one.to_m >= at_m);
    if (stretch === undefined) return [];
    const near = all.filter(({ chainage_m }) => Math.abs(chainage_m - at_m) < 12);
    const shown = near.filter(({ size }) => size > 1).map(({ chainage_m }) => chainage_m);
    return {
      left: Math.max(0, ...near.filter(({ aside }) => !aside).map(({ size }) => size)),
      beyond_m: [
        Math.min(at_m, ...shown) - stretch.from_m,
        stretch.to_m - Math.max(at_m, ...shown),
      ],
    };
  });
}

describe("the ends of what maskInterference sets aside", () => {
  const rims = Array.from({ length: 30 }, (_, k) => k).flatMap(rimsOf);

  it("leave no reading with an effect of three scatters in use", () => {
    expect(rims.length).toBeGreaterThan(100);
    expect(Math.max(...rims.map(({ left }) => left))).toBeLessThan(3);
  });

  it("lie no further out than the margin and two readings or so", () => {
    const beyond_m = rims.flatMap((one) => one.beyond_m);
    // Readings are 1.2 m apart: the margin of 1.5 m, and two readings that rise above `growTo` by
    // chance.
    expect(quantile(beyond_m, 0.9)).toBeLessThan(4);
    expect(quantile(beyond_m, 0.5)).toBeGreaterThan(1);
  });
});

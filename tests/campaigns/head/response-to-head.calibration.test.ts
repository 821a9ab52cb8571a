import { describe, expect, it } from "vitest";
import { responseToHead } from "../../../lib/campaigns/head/response-to-head.js";
import { alongWend } from "../../support/river-and-ground.js";

const responseAt = ({ slices, survey }: ReturnType<typeof alongWend>, options = {}) =>
  responseToHead(slices, survey, options).value;

describe("responseToHead over seeded lines", () => {
  it("finds a strong response in nine of ten lines, holds its slope, and invents few", () => {
    let [found, held, invented, beside] = [0, 0, 0, 0];
    const runs = 30;
    for (let seed = 1; seed <= runs; seed++) {
      const still = responseAt(alongWend({ seed: 900 + seed, campaigns: 6 }));
      if (still.stretches.some((one) => one.responds)) invented++;
      const { stretches } = responseAt(
        alongWend({ seed: 300 + seed, campaigns: 6, response: -0.1 }),
        { stretches: [...even(8), { from_m: 405, to_m: 445 }], lags_days: [0] },
      );
      const hit = stretches.at(-1)!;
      if (stretches.slice(0, -1).some((one) => one.responds)) beside++;
      if (!hit.responds) continue;
      found++;
      const { interval } = hit.bySlice[0]!;
      if (interval[0] <= 10 ** -0.1 && interval[1] >= 10 ** -0.1) held++;
    }
    expect(found, `${found} found`).toBeGreaterThanOrEqual(27);
    // At most 5 %: of 30, up to 4 are within two binomial deviations.
    expect(invented, `${invented} invented`).toBeLessThanOrEqual(4);
    expect(beside, `${beside} beside`).toBeLessThanOrEqual(5);
    expect(held / found, `${held} of ${found} held`).toBeGreaterThanOrEqual(0.75);
  });

  it("tells the lag where there are campaigns enough, and its range holds it", () => {
    let [best, within] = [0, 0];
    for (let seed = 1; seed <= 8; seed++) {
      const made = alongWend({ seed: 40 + seed, campaigns: 10, response: -0.1, lag_days: 14 });
      const { stretches } = responseAt(made, {
        stretches: [...even(6), { from_m: 405, to_m: 445 }],
      });
      const { lag_days, lagRange_days } = stretches.at(-1)!.bySlice[0]!;
      if (lag_days === 14) best++;
      if (lagRange_days[0] <= 14 && lagRange_days[1] >= 14) within++;
    }
    expect(best).toBeGreaterThanOrEqual(5);
    expect(within).toBeGreaterThanOrEqual(6);
  });
});

/** Stretches of 40 m from 0 m, clear of 400–450 m. */
function even(count: number) {
  return Array.from({ length: count }, (_, i) => ({ from_m: 40 * i, to_m: 40 * i + 40 }));
}

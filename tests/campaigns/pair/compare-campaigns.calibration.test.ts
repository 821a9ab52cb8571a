// Over seeded pairs with levels, temperatures and misplacement of up to 3 m: how often a change is
// found, invented, and its ratio held. PAIRS=300 npx vitest run tests/campaigns/calibration
// gives the figures of the documentation; fewer pairs run by default, with limits to match.
import { describe, expect, it } from "vitest";
import type { Change } from "../../../lib/campaigns/pair/changes.js";
import { compareCampaigns } from "../../../lib/campaigns/pair/compare-campaigns.js";
import { makeCampaigns } from "../../support/campaign-pairs.js";

const pairs = Number(process.env.PAIRS ?? 120);
const LENGTH_M = 40;
/** Slices in which the change lies, by turns. */
const DEPTHS = [[0, 1], [0, 1, 2], [1], [1, 2], [0]];
/** Three standard deviations of a share. */
const slack = (share: number, runs: number) => 3 * Math.sqrt((share * (1 - share)) / runs);

interface Trial {
  readonly factor: number;
  readonly depths: readonly number[];
  readonly changes: readonly Change[];
  readonly hit: Change | undefined;
}

function trial(seed: number): Trial {
  const from = 200 + ((seed * 37) % 500);
  const factor = seed % 2 === 0 ? 0.8 : 1.25;
  const depths = DEPTHS[seed % DEPTHS.length]!;
  const change = (x: number, k: number, campaign: number) =>
    campaign === 1 && x >= from && x <= from + LENGTH_M && depths.includes(k)
      ? Math.log10(factor)
      : 0;
  const { slices } = makeCampaigns({ seed: 5000 + seed, change });
  const { changes } = compareCampaigns(slices[0]!, slices[1]!).value;
  const hit = changes.find(
    (one) =>
      one.from_m < from + LENGTH_M &&
      one.to_m > from &&
      one.direction === (factor < 1 ? "fell" : "rose"),
  );
  return { factor, depths, changes, hit };
}

const seeds = Array.from({ length: pairs }, (_, i) => i + 1);

describe(`compareCampaigns over ${pairs} seeded pairs misplaced by up to 3 m`, () => {
  it("invents a change in at most 5 % of pairs without one", () => {
    const wrong = seeds.filter((seed) => {
      const { slices } = makeCampaigns({ seed });
      return compareCampaigns(slices[0]!, slices[1]!).value.changes.length > 0;
    }).length;
    if (process.env.PAIRS !== undefined) process.stdout.write(`invented in ${wrong} of ${pairs}\n`);
    expect(wrong / pairs, `${wrong} of ${pairs}`).toBeLessThanOrEqual(
      0.05 + slack(0.05, pairs) / 3,
    );
  });

  it("finds 20 % over 40 m in nine of ten, and its 90 % intervals hold", () => {
    const trials = seeds.map(trial);
    const found = trials.filter(({ hit }) => hit !== undefined);
    expect(found.length / pairs, `${found.length} of ${pairs} found`).toBeGreaterThanOrEqual(
      0.9 - slack(0.9, pairs) / 3,
    );
    const truth = (one: Trial, k: number) => (one.depths.includes(k) ? one.factor : 1);
    const holds = ([lo, hi]: readonly [number, number], value: number) =>
      lo <= value && hi >= value;
    const main = found.filter((one) => {
      const k = one.hit!.bySlice!.findIndex(({ ratio }) => ratio === one.hit!.ratio);
      return holds(one.hit!.ratioInterval!, truth(one, k));
    });
    const share = main.length / found.length;
    expect(share, `${main.length} of ${found.length}`).toBeGreaterThanOrEqual(
      0.85 - slack(0.9, pairs) / 3,
    );
    const slices = found.flatMap((one) =>
      one.hit!.bySlice!.map(({ interval }, k) => holds(interval, truth(one, k))),
    );
    const held = slices.filter(Boolean).length / slices.length;
    expect(held, `${(100 * held).toFixed(1)} % of slices`).toBeGreaterThanOrEqual(0.83);
    expect(held).toBeLessThanOrEqual(0.97);
    if (process.env.PAIRS !== undefined) {
      const beside = trials.filter(({ changes, hit }) => changes.some((one) => one !== hit)).length;
      process.stdout.write(
        `found ${found.length}, ratio held ${main.length}, slices held ${held.toFixed(3)}, with a stretch beside ${beside} of ${pairs}\n`,
      );
    }
  });
});

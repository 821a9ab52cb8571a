// From invented readings over known ground to the ratio of a change by depth, over four depth
// ranges and both signs by turns. tests/calibration.md has the figures over more pairs.
import { describe, expect, it } from "vitest";
import { compareCampaigns } from "../../../lib/campaigns/pair/compare-campaigns.js";
import { estimateDepthSlices } from "../../../lib/depth/estimate-depth-slices.js";
import { type Random, seededRandom } from "../../../lib/numerics/random.js";
import { walked } from "../../support/walked.js";

const tops = [0, 0.3, 0.8, 1.3, 2, 3, 4.5];
const thickness_m = tops.slice(1).map((top, j) => top - tops[j]!);
const LENGTH_M = 500;
const pairs = Number(process.env.PAIRS ?? 12);
const RANGES_M = [
  [0, 1.3],
  [0.3, 2],
  [0.8, 3],
  [0, 3],
] as const;

const changeOf = (seed: number) => {
  const [top_m, base_m] = RANGES_M[seed % 4]!;
  return { from_m: 240, to_m: 290, top_m, base_m, factor: seed % 2 === 0 ? 1.33 : 0.75 };
};
type Change = ReturnType<typeof changeOf>;

/** log10 S/m by layer and metre of chainage: texture and three blocks. */
function inventedGround(random: Random) {
  const texture = tops.map(() => {
    let value = random.normal();
    return Float64Array.from({ length: LENGTH_M + 60 }, () => {
      value = 0.95 * value + Math.sqrt(1 - 0.95 ** 2) * random.normal();
      return value;
    });
  });
  const base = tops.map(() => -1.4 + 0.15 * random.normal());
  const blocks = [0, 0, 0].map(() => 0.2 * random.normal());
  return (j: number, x: number) => {
    const at = x + 20;
    const i = Math.floor(at);
    const row = texture[j]!;
    const here = row[i]! + (at - i) * (row[i + 1]! - row[i]!);
    return base[j]! + blocks[x < 160 ? 0 : x < 350 ? 1 : 2]! + 0.06 * here;
  };
}

const changedBy = (change: Change, j: number, x: number) =>
  x >= change.from_m && x <= change.to_m && tops[j]! >= change.top_m && tops[j]! < change.base_m
    ? -Math.log10(change.factor)
    : 0;

async function pair(seed: number, change: Change) {
  const random = seededRandom(seed);
  const ground = inventedGround(random);
  const [constant, phase] = [2 * (2 * random.uniform() - 1), 6 * random.uniform()];
  const misplaced = (x: number) => constant + Math.sin(x / 60 + phase);
  const walk = (changed: boolean) =>
    walked({
      groundAt: (x) => {
        const at = Math.max(-19, Math.min(LENGTH_M + 38, changed ? x - misplaced(x) : x));
        return {
          thickness_m,
          conductivity_S_per_m: tops.map(
            (_, j) => 10 ** (ground(j, at) + (changed ? changedBy(change, j, at) : 0)),
          ),
        };
      },
      length_m: LENGTH_M,
      noise: 0.7,
      seed: 10 * seed + Number(changed),
      label: changed ? "2032-03" : "2031-10",
    });
  const earlier = (await estimateDepthSlices(walk(false))).value;
  const later = (await estimateDepthSlices(walk(true), { slices: earlier.slices })).value;
  return compareCampaigns(earlier, { ...later, time_s: earlier.time_s + 1e7 }).value.changes;
}

/** The factor of a slice of which the change fills a part. */
function truth(change: Change, slice: { readonly top_m: number; readonly base_m: number }): number {
  const shared = Math.min(slice.base_m, change.base_m) - Math.max(slice.top_m, change.top_m);
  return change.factor ** (Math.max(0, shared) / (slice.base_m - slice.top_m));
}

describe("a change from readings to ratio", () => {
  it("is found, and its intervals hold what the slices really did", async () => {
    let [found, held, slices] = [0, 0, 0];
    for (let seed = 1; seed <= pairs; seed++) {
      const change = changeOf(seed);
      const changes = await pair(seed, change);
      const hit = changes.find((one) => one.from_m < change.to_m && one.to_m > change.from_m);
      if (hit?.direction !== (change.factor < 1 ? "fell" : "rose")) continue;
      found++;
      for (const one of hit.bySlice!) {
        slices++;
        const really = truth(change, one);
        if (one.interval[0] <= really && one.interval[1] >= really) held++;
      }
    }
    if (process.env.PAIRS !== undefined) {
      process.stdout.write(`found ${found} of ${pairs}, slices held ${held} of ${slices}\n`);
    }
    expect(found).toBeGreaterThanOrEqual(Math.floor(0.9 * pairs));
    // 85–95 % for 90 %, and one binomial deviation for few slices: neither too narrow nor too wide.
    const slack = Math.sqrt((0.9 * 0.1) / slices);
    expect(held / slices, `${held} of ${slices}`).toBeGreaterThanOrEqual(0.85 - slack);
    // Slices that a change does not touch nearly always hold: seen 77 of 78.
    expect(held / slices, `${held} of ${slices}`).toBeLessThanOrEqual(0.95 + 2 * slack);
  }, 1_800_000);
});

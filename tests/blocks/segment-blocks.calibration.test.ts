// The certainty of segmentBlocks over seeded profiles of correlated noise. With 500 profiles, by
// BLOCKS_PROFILES=500 npx vitest run tests/blocks/calibration.test.ts --testTimeout 900000
// gave: 90.4 % of intervals hold the boundary, mean width 13 m (with independence assumed 65.4 %);
// 86.9 % of the boundaries found, 62 boundaries where there is none (3639); 1.8 % of the profiles
// without a boundary get one (100 %).
import { describe, expect, it } from "vitest";
import { segmentBlocks } from "../../lib/blocks/segment-blocks.js";
import { type NoisyProfile, noisyProfile } from "../support/noisy-profiles.js";

const profiles = Number(process.env.BLOCKS_PROFILES ?? 120);
/** A boundary that is found lies within this of the true one; half the shortest distance of two. */
const NEAR_M = 40;

type Noise = "correlated" | "independent";

function cut(profile: NoisyProfile, noise: Noise) {
  return segmentBlocks(profile.slices, { noise }).value.blocks.slice(1);
}

/** How often intervals hold the true boundary, of those that are near one. */
function held(noise: Noise) {
  let [found, inside, spurious, width_m] = [0, 0, 0, 0];
  for (let seed = 1; seed <= profiles; seed++) {
    const profile = noisyProfile(seed, 3);
    for (const { from_m, fromInterval_m: interval } of cut(profile, noise)) {
      const edge = profile.boundaries_m.find((x) => Math.abs(x - from_m) < NEAR_M);
      if (edge === undefined) {
        spurious++;
        continue;
      }
      found++;
      width_m += interval[1] - interval[0];
      if (interval[0] <= edge && edge <= interval[1]) inside++;
    }
  }
  return {
    share: inside / found,
    found: found / (3 * profiles),
    spurious,
    width_m: width_m / found,
  };
}

function falseShare(noise: Noise): number {
  let wrong = 0;
  for (let seed = 1; seed <= profiles; seed++) {
    if (cut(noisyProfile(10000 + seed, 0), noise).length > 0) wrong++;
  }
  return wrong / profiles;
}

// Three standard errors of a share, so that the fixed seeds do not decide by luck.
const slack = (share: number, count: number) => 3 * Math.sqrt((share * (1 - share)) / count);

describe("the certainty of segmentBlocks", () => {
  it("is 90 % where it says 90 %, and with independence assumed it is not", () => {
    const correlated = held("correlated");
    const independent = held("independent");
    const text = JSON.stringify({ correlated, independent });
    expect(correlated.found, text).toBeGreaterThan(0.8);
    const off = Math.max(0, slack(0.9, 3 * profiles) - 0.04);
    expect(correlated.share, text).toBeGreaterThan(0.86 - off);
    expect(correlated.share, text).toBeLessThan(0.94 + off);
    expect(independent.share, text).toBeLessThan(correlated.share - 0.1);
    expect(independent.spurious, text).toBeGreaterThan(5 * (correlated.spurious + 1));
    if (profiles >= 500) process.stdout.write(`${text}\n`);
  });

  it("finds a boundary where there is none in at most 5 %, and with independence assumed in most", () => {
    const correlated = falseShare("correlated");
    const independent = falseShare("independent");
    const text = JSON.stringify({ correlated, independent });
    expect(correlated, text).toBeLessThanOrEqual(
      0.05 + (profiles < 500 ? slack(0.05, profiles) : 0),
    );
    expect(independent, text).toBeGreaterThan(0.5);
    if (profiles >= 500) process.stdout.write(`${text}\n`);
  });
});

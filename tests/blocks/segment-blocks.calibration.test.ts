// The certainty of segmentBlocks over seeded profiles of correlated noise; tests/calibration.md has
// the figures of 500 profiles, by
// BLOCKS_PROFILES=500 npx vitest run tests/blocks/segment-blocks.calibration --testTimeout 900000
import { describe, expect, it } from "vitest";
import { segmentBlocks } from "../../lib/blocks/segment-blocks.js";
import { seededRandom } from "../../lib/numerics/random.js";
import { makeDepthSlices } from "../support/depth-slices.js";
import { type NoisyProfile, noisyProfile } from "../support/noisy-profiles.js";
import { edges_m, levels, stepped, steps } from "../support/stepped-line.js";

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
    expect(correlated.found, text).toBeGreaterThan(0.75 - slack(0.75, 3 * profiles));
    const off = Math.max(0, slack(0.9, 3 * profiles) - 0.04);
    expect(correlated.share, text).toBeGreaterThan(0.86 - off);
    // Only sure boundaries are drawn, and their intervals hold more than they say: 94 to 96 %.
    expect(correlated.share, text).toBeLessThan(0.98);
    expect(independent.share, text).toBeLessThan(correlated.share - 0.1);
    expect(independent.spurious, text).toBeGreaterThan(5 * (correlated.spurious + 1));
    if (profiles >= 500) process.stdout.write(`${text}\n`);
  });

  it("finds a false boundary in at most 5 %, and with independence assumed in most", () => {
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

describe("segmentBlocks over seeded lines", () => {
  it("cuts a line without boundaries in at most 10 %, whatever the correlation length", () => {
    for (const correlation_m of [1, 6, 12]) {
      let cut = 0;
      for (let seed = 1; seed <= 40; seed++) {
        const given = makeDepthSlices({ seed, correlation_m, stations: 500 });
        if (segmentBlocks(given).value.blocks.length > 1) cut++;
      }
      expect(cut, `${cut} false cuts of 40 at ${correlation_m} m`).toBeLessThanOrEqual(4);
    }
  });

  it("gives intervals that hold the boundary about nine times in ten", () => {
    let held = 0;
    let all = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const given = stepped(seed, { truth: steps(edges_m, [1.5, 1.62, 1.5, 1.65, 1.5]) });
      for (const block of segmentBlocks(given).value.blocks.slice(1)) {
        const near = edges_m.find((edge) => Math.abs(edge - block.from_m) < 40);
        if (near === undefined) continue;
        all++;
        if (block.fromInterval_m[0] <= near && near <= block.fromInterval_m[1]) held++;
      }
    }
    expect(all).toBeGreaterThan(200);
    expect(held / all).toBeGreaterThan(0.84);
    expect(held / all).toBeLessThan(0.995);
  });

  it("gives intervals that hold it where the positions are coarse, given how coarse", () => {
    const held = { given: 0, left: 0, all: 0 };
    for (let seed = 1; seed <= 60; seed++) {
      // The walk's chainages are all off by the receiver's error of the day, 4 m.
      const off_m = 4 * seededRandom(seed + 0.7).normal();
      const shape = steps(edges_m, levels);
      const slices = stepped(seed, { truth: (x: number) => shape(x - off_m) });
      const positionSd_m = slices.chainage_m.map(() => 4);
      const withSd = segmentBlocks({ ...slices, positionSd_m }).value.blocks.slice(1);
      const without = segmentBlocks(slices).value.blocks.slice(1);
      expect(withSd.map(({ from_m }) => from_m)).toEqual(without.map(({ from_m }) => from_m));
      for (const [b, block] of withSd.entries()) {
        const edge = edges_m.find((one) => Math.abs(one - block.from_m) < 30);
        if (edge === undefined) continue;
        const holds = ([low, high]: readonly [number, number]) => low <= edge && edge <= high;
        held.all++;
        if (holds(block.fromInterval_m)) held.given++;
        if (holds(without[b]!.fromInterval_m)) held.left++;
      }
    }
    expect(held.all).toBeGreaterThan(200);
    // 90 % of 60 lines whose boundaries err together: to within 8 % (two standard deviations).
    expect(held.given / held.all).toBeGreaterThan(0.82);
    expect(held.left / held.all).toBeLessThan(0.75);
  });
});

describe("segmentBlocks on clear steps", () => {
  it("finds every boundary of clear steps within 12 m, and one other in 20 seeded lines", () => {
    let others = 0;
    for (let seed = 1; seed <= 20; seed++) {
      const drawn_m = segmentBlocks(stepped(seed))
        .value.blocks.slice(1)
        .map((one) => one.from_m);
      for (const edge of edges_m) {
        expect(drawn_m.some((x) => Math.abs(x - edge) <= 12)).toBe(true);
      }
      others += drawn_m.length - edges_m.length;
    }
    expect(others).toBeLessThanOrEqual(1);
  });
});

import { describe, expect, it } from "vitest";
import { alignLater } from "../../../../lib/campaigns/pair/align/align-later.js";
import {
  cubicAt,
  lessRunningMedian,
  sampledAt,
} from "../../../../lib/campaigns/pair/align/sample-columns.js";
import { median } from "../../../../lib/numerics/statistics/robust.js";
import { makeCampaigns } from "../../../support/campaign-pairs.js";
import { expectClose } from "../../../support/expect-close.js";

function aligned(seed: number, more: object = {}) {
  const { slices, misplaced_m } = makeCampaigns({ seed, ...more });
  const [earlier, later] = slices;
  const pair = {
    earlier: earlier!.log10Resistivity,
    later: later!.log10Resistivity,
    ahead: 0,
    spacing_m: 2,
  };
  const found = alignLater(pair, 4);
  const truth = earlier!.chainage_m.map((x) => misplaced_m[1]!(x));
  return { found, truth };
}

describe("alignLater", () => {
  it("finds a misplacement of up to 3 m to half a metre, and says how well it knows it", () => {
    let [before, after, within, count] = [0, 0, 0, 0];
    for (let seed = 1; seed <= 20; seed++) {
      const { found, truth } = aligned(seed);
      truth.forEach((shift, i) => {
        before += shift ** 2;
        after += (found.mean_m[i]! - shift) ** 2;
        within += Math.abs(found.mean_m[i]! - shift) <= 1.645 * found.sd_m[i]! ? 1 : 0;
        count++;
      });
    }
    // Seen: 1.3 m before, 0.43 m after, 98 % within what should hold 90 %: it errs on the safe
    // side.
    expect(Math.sqrt(before / count)).toBeGreaterThan(1);
    expect(Math.sqrt(after / count)).toBeLessThan(0.5);
    expect(within / count).toBeGreaterThanOrEqual(0.9);
  });

  it("is not drawn aside by a stretch that changed", () => {
    const change = (x: number) => (x >= 400 && x <= 460 ? Math.log10(1.6) : 0);
    for (let seed = 1; seed <= 5; seed++) {
      const plain = aligned(seed);
      const changed = aligned(seed, { change: (x: number, _: number, c: number) => c * change(x) });
      const moved = changed.found.mean_m.map((v, i) => Math.abs(v - plain.found.mean_m[i]!));
      // The rise by 60 % is ten times the errors; at its very ends up to 0.8 m are seen, where the
      // stated deviation is 0.7 m.
      expect(Math.max(...moved)).toBeLessThan(1);
    }
  });

  it("makes no shift where the ground has no texture, and says that it does not know", () => {
    const flat = [new Float64Array(200).fill(1.5)];
    const found = alignLater({ earlier: flat, later: flat, ahead: 0, spacing_m: 2 }, 4);
    for (const mean of found.mean_m) expectClose(mean, 0, { absolute: 1e-9 });
    // The prior's own deviation, 2 m, on a grid that ends at two deviations.
    for (const sd of found.sd_m) expectClose(sd, 2, { absolute: 0.4 });
  });

  it("reads a campaign whose stations begin elsewhere", () => {
    const { slices } = makeCampaigns({ seed: 3, misplaced_m: 0 });
    const columns = slices[0]!.log10Resistivity;
    const pair = {
      earlier: columns.map((column) => column.slice(10)),
      later: columns,
      ahead: 10,
      spacing_m: 2,
    };
    const inner = alignLater(pair, 4).mean_m.subarray(5, -5);
    // The same readings: no shift, to a fifth of the grid; the last stations see no farther ground.
    for (const mean of inner) expectClose(mean, 0, { absolute: 0.1 });
  });
});

const rounding = { absolute: 1e-12 };

describe("sampledAt, cubicAt and lessRunningMedian", () => {
  const row = Float64Array.of(1, 3, Number.NaN, 7, 9, 11, 13);

  it("read between stations, and across a missing one only to half a spacing", () => {
    expect(sampledAt(row, 0.5)).toBe(2);
    expect(sampledAt(row, 1.4)).toBe(3);
    expect(sampledAt(row, 1.6)).toBeNaN();
    expect(sampledAt(row, 2.6)).toBe(7);
    expect(sampledAt(row, 6)).toBe(13);
    expect(sampledAt(row, -0.6)).toBeNaN();
    // A cubic through points of a straight line is that line.
    expectClose(cubicAt(row, 4.25), 9.5, rounding);
    expect(cubicAt(row, 3.5)).toBeNaN();
  });

  it("takes a step off with its edge, and equals the median of each window", () => {
    const step = Float64Array.from({ length: 40 }, (_, i) => (i < 20 ? 0 : 1));
    expect([...lessRunningMedian(step, 5)].every((value) => value === 0)).toBe(true);
    const wild = Float64Array.from({ length: 30 }, (_, i) =>
      i % 7 === 3 ? Number.NaN : (i * 37) % 11,
    );
    const found = lessRunningMedian(wild, 4);
    wild.forEach((value, i) => {
      const expected = value - median(wild.subarray(Math.max(0, i - 4), i + 5));
      if (Number.isNaN(value)) expect(found[i]).toBeNaN();
      else expectClose(found[i]!, expected, rounding);
    });
  });
});

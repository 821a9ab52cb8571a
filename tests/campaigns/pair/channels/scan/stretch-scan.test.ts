import { describe, expect, it } from "vitest";
import { expectClose } from "../../../../support/expect-close.js";
import { N, pOf, scanOf } from "./support/scanned-line.js";

describe("the scan of a line", () => {
  it("finds a change and its ends, the more surely the longer the stretch", () => {
    const scan = scanOf({ seed: 3, change: 2 });
    const best = scan.best()!;
    expect(pOf(scan)).toBeLessThan(1e-6);
    expect(Math.abs(best.first - 120)).toBeLessThanOrEqual(2);
    expect(Math.abs(best.last - 159)).toBeLessThanOrEqual(2);
  });

  it("measures how noise grows with length where neighbours are alike", () => {
    expect(scanOf({ seed: 4 }).inflationAt(20)).toBeLessThan(1.7);
    // (1 + 0.8) / (1 − 0.8) = 9 for long means, less for short ones.
    const alike = scanOf({ seed: 4, likeness: 0.8 }).inflationAt(20);
    expect(alike).toBeGreaterThan(4);
    expect(alike).toBeLessThan(15);
  });

  it("does not take two changes for noise of long stretches", () => {
    const quiet = scanOf({ seed: 4 }).inflationAt(40);
    const both = scanOf({ seed: 4, change: 2, another: -2 });
    // Over 60 % of the stretches of 40 meet one of them, whose mean square is 2² × 40 = 160. In noise it grows
    // by the length at most: a factor of 40 / 6 from the shortest stretches on.
    expect(both.inflationAt(40)).toBeLessThan(quiet * (40 / 6) * 1.2);
    const { first, last } = both.best()!;
    const changed = new Uint8Array(N).fill(1, first, last + 1);
    const other = scanOf({ seed: 4, change: 2, another: -2 }, { taken: changed, changed });
    expect(pOf(other)).toBeLessThan(1e-6);
  });

  it("finds nothing, and needs more than any change has, where readings see no change", () => {
    const blind = scanOf({ seed: 4, directions: 0 });
    expect(blind.best()).toBeNull();
    expect(blind.strengthNeeded(0.05)).toBe(Number.POSITIVE_INFINITY);
  });

  it("states the strength that a change needs, less at a greater error rate", () => {
    const scan = scanOf({ seed: 4 });
    expect(scan.strengthNeeded(0.5)).toBeLessThan(scan.strengthNeeded(0.05));
    // One degree of freedom, about 600 stretches tried: p of 0.05 / 600 is 3.9 deviations, and 1.28.
    expectClose(scan.strengthNeeded(0.05), 5.2, { absolute: 0.3 });
  });

  it("does not look where a change has been found", () => {
    const taken = new Uint8Array(N).fill(1, 110, 170);
    const best = scanOf({ seed: 3, change: 2 }, { taken }).best()!;
    expect(best.last < 110 || best.first >= 170).toBe(true);
  });

  it("counts a misplacement over a boundary as noise", () => {
    const blind = scanOf({ seed: 5, slope: 4 });
    const placed = scanOf({ seed: 5, slope: 4 }, { mismatch_m: 1 });
    expect(pOf(blind)).toBeLessThan(0.01);
    expect(pOf(placed)).toBeGreaterThan(0.05);
  });
});

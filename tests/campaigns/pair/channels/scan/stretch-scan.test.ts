import { describe, expect, it } from "vitest";
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

  it("does not look where a change has been found", () => {
    const taken = new Uint8Array(N).fill(1, 110, 170);
    const best = scanOf({ seed: 3, change: 2 }, taken).best()!;
    expect(best.last < 110 || best.first >= 170).toBe(true);
  });

  it("counts a misplacement over a boundary as noise", () => {
    const blind = scanOf({ seed: 5, slope: 4 });
    const placed = scanOf({ seed: 5, slope: 4 }, new Uint8Array(N), 1);
    expect(pOf(blind)).toBeLessThan(0.01);
    expect(pOf(placed)).toBeGreaterThan(0.05);
  });
});

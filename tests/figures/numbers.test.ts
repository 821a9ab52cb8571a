import { describe, expect, it } from "vitest";
import { logTicks } from "../../lib/figures/axes.js";
import { extent, logDomain, logSteps, rounded, significant } from "../../lib/figures/numbers.js";
import { thinned } from "../../lib/figures/thinning.js";

describe("numbers of a specification", () => {
  it("are rounded, and missing ones are null", () => {
    expect(significant(1234.567)).toBe(1235);
    expect(significant(Number.NaN)).toBeNull();
    expect(rounded(12.345, 1)).toBe(12.3);
    expect(Object.is(rounded(-0.01), 0)).toBe(true);
    expect(rounded(Number.POSITIVE_INFINITY)).toBeNull();
  });

  it("have an extent that ignores missing values", () => {
    expect(extent([[3, Number.NaN], [-1]])).toEqual([-1, 3]);
    expect(extent([[Number.NaN], []])).toBeNull();
  });
});

describe("log scales", () => {
  it("end on 1, 2 or 5 times a power of ten and enclose the values", () => {
    expect(logDomain([[0, -3, 12, 180]])).toEqual([10, 200]);
    expect(logDomain([[20, 20]])).toEqual([20, 50]);
    expect(logDomain([[]])).toEqual([1, 10]);
    expect(logSteps(0.03, 0.4)).toEqual([0.02, 0.05, 0.1, 0.2, 0.5]);
    expect(logSteps(1000, 1000)).toEqual([1000, 2000]);
  });

  it("keep to powers of ten where ticks would crowd", () => {
    expect(logTicks([10, 200])).toEqual([10, 20, 50, 100, 200]);
    expect(logTicks([0.1, 1000])).toEqual([0.1, 1, 10, 100, 1000]);
  });
});

describe("thinned", () => {
  const x = Array.from({ length: 1000 }, (_, i) => i);

  it("keeps the lowest and the highest value of every bucket", () => {
    const y = x.map((i) => (i === 555 ? 99 : i === 556 ? -99 : Math.sin(i)));
    const points = thinned({ x, y }, 50);
    expect(points.length).toBeLessThanOrEqual(40);
    expect(Math.max(...points.map((point) => point.y))).toBe(99);
    expect(Math.min(...points.map((point) => point.y))).toBe(-99);
    expect(points.map((point) => point.x)).toEqual(
      points.map((point) => point.x).sort((a, b) => a - b),
    );
  });

  it("never joins over a gap, however narrow", () => {
    const y = x.map((i) => (i === 500 ? Number.NaN : i));
    const runs = new Set(thinned({ x, y }, 300).map((point) => point.run));
    expect(runs.size).toBe(2);
  });

  it("encloses the bands of a bucket", () => {
    const lo = x.map((i) => -i);
    const hi = x.map((i) => 2 * i);
    const first = thinned({ x, y: x, lo, hi }, 100)[0]!;
    expect([first.lo, first.hi]).toEqual([-99, 198]);
  });

  it("keeps every point at a bucket of 0", () => {
    expect(thinned({ x, y: x }, 0)).toHaveLength(1000);
  });
});

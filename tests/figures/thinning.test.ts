import { describe, expect, it } from "vitest";
import { thinned } from "../../lib/figures/thinning.js";

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

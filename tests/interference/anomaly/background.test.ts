import { describe, expect, it } from "vitest";
import { backgroundOf } from "../../../lib/interference/anomaly/background.js";

const x = Float64Array.from({ length: 41 }, (_, i) => i);

describe("backgroundOf", () => {
  it("looks to one side each, the reading itself left out", () => {
    const values = x.map((at) => (at < 20 ? 1 : 5));
    const { before, after } = backgroundOf(x, values, 10);
    expect([before[19], after[19]]).toEqual([1, 5]);
    expect([before[20], after[20]]).toEqual([1, 5]);
    expect([before[31], after[9]]).toEqual([5, 1]);
  });

  it("does not follow a narrow anomaly", () => {
    const values = x.map((at) => (Math.abs(at - 20) < 3 ? 100 : 1));
    const { before, after } = backgroundOf(x, values, 16);
    expect([...before.slice(3)].every((one) => one === 1)).toBe(true);
    expect([...after.slice(0, 38)].every((one) => one === 1)).toBe(true);
  });

  it("knows no level from fewer than three readings with a value", () => {
    const values = Float64Array.from(x, (at) => (at > 4 && at < 30 ? Number.NaN : 1));
    const { before, after } = backgroundOf(x, values, 5);
    expect([before[2], before[3]]).toEqual([Number.NaN, 1]);
    expect([after[24], after[27]]).toEqual([Number.NaN, 1]);
    expect(before[20]).toBeNaN();
  });
});

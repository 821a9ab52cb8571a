import { expect, it } from "vitest";
import type { LineReadings } from "../../../lib/depth/data/line-readings.js";
import { countsOf, withOwnNoise } from "../../../lib/depth/posterior/ill-explained.js";

it("lets stations that fit worse than the better quarter by far count as the worst that fits", () => {
  // Half of the line lies over metal: the better quarter is 0.7, so 2.1 is the most.
  const counts = countsOf(Float64Array.from([0.6, 0.7, 0.7, 0.9, 4.2, 8.4, 5, 6]));
  expect([...counts.slice(0, 4)]).toEqual([1, 1, 1, 1]);
  expect(counts[4]).toBeCloseTo(0.25, 10);
  expect(counts[5]).toBeCloseTo(0.0625, 10);
  expect([...countsOf(Float64Array.from([0.2, 0.3, 1.9, 0.3]))]).toEqual([1, 1, 1, 1]);
  expect([...countsOf(Float64Array.from([4, 5, 6, 7]))]).toEqual([1, 1, 1, 1]);
});

it("gives a noise of its own to what no ground explains, channel by channel, not to ties", () => {
  const level = {
    ...{ n: 5, width: 3, channels: [{}, {}] },
    ...{ known: new Float64Array(15), common: Float64Array.from([0, 0.04, 0]) },
  } as unknown as LineReadings;
  const squares = Float64Array.from([1, 1, 9, 1, 1, 9, 1, 1, 9, 1, 1, 9, 25, Number.NaN, 9]);
  const white = Float64Array.from([0.02, 0.03, 0.01]);
  const own = withOwnNoise(level, { white }, squares);
  expect([...own.stations]).toEqual([4]);
  const [first, second, tie] = own.level.known.slice(12);
  expect(first).toBeCloseTo(Math.sqrt(24) * 0.02, 10);
  expect(second).toBeCloseTo(Math.sqrt(24) * 0.05, 10);
  expect(tie).toBe(0);
  expect(own.level.known.slice(0, 12).every((one) => one === 0)).toBe(true);
  expect(level.known.every((one) => one === 0)).toBe(true);
});

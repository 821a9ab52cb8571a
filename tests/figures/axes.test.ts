import { describe, expect, it } from "vitest";
import { logTicks, valuePositions } from "../../lib/figures/axes.js";

const axis = { scale: "linear", title: "ppm", length_px: 140 } as const;

describe("valuePositions", () => {
  it("puts a twentieth of the span around the values of a linear scale", () => {
    expect(valuePositions([[0, 10], [Number.NaN]], axis)("v")).toEqual({
      ...{ field: "v", type: "quantitative" },
      scale: { domain: [-0.5, 10.5], zero: false, nice: true },
      axis: { title: "ppm", tickCount: 5 },
    });
  });

  it.each([
    ["keeps zero in view", [[8, 10]], { withZero: true }, [-0.5, 10.5]],
    ["opens a single value to both sides", [[20]], {}, [19, 21]],
    ["has a domain without values", [[]], {}, [-0.05, 1.05]],
    ["takes the domain that is asked for", [[8, 10]], { domain: [0, 1] }, [0, 1]],
    ["ends a log scale on round numbers", [[12, 180]], { scale: "log" }, [10, 200]],
  ] as const)("%s", (_, arrays, more, domain) => {
    const { scale } = valuePositions(arrays, { ...axis, ...more })("v");
    expect(scale?.domain).toEqual(domain);
  });

  it("turns the axis round and takes a wished number of ticks", () => {
    const position = valuePositions([[0, 1]], { ...axis, reverse: true, tickCount: 3 })("v");
    expect(position).toMatchObject({ scale: { reverse: true }, axis: { tickCount: 3 } });
  });
});

describe("logTicks", () => {
  it("keep to powers of ten where ticks would crowd", () => {
    expect(logTicks([10, 200])).toEqual([10, 20, 50, 100, 200]);
    expect(logTicks([0.1, 1000])).toEqual([0.1, 1, 10, 100, 1000]);
  });
});

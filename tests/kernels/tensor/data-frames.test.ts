import { DataFrame, Series } from "danfojs-node";
import { describe, expect, it } from "vitest";
import { expectClose } from "../../support/expect-close.js";

// danfojs-node works on the plain-JavaScript tensor package that stands in for the native one.
const frame = () =>
  new DataFrame({
    block: ["B1", "B2", "B1"],
    median_ohm_m: [40, 25, 44],
    readings: [310, 290, 305.5],
  });

describe("data frames on the tensor package in place", () => {
  it("add numbers and columns", () => {
    const numbers = frame().loc({ columns: ["median_ohm_m", "readings"] });
    expect(numbers.add(1).values).toEqual([
      [41, 311],
      [26, 291],
      [45, 306.5],
    ]);
    const sum = frame().column("median_ohm_m").add(frame().column("readings"));
    expect((sum as Series).values).toEqual([350, 315, 349.5]);
  });

  it("give means and deviations", () => {
    expect(frame().column("median_ohm_m").mean()).toBe(109 / 3);
    // Sample standard deviation of 1, 2, 3, 4: sqrt(5/3), in double precision.
    expectClose(new Series([1, 2, 3, 4]).std(), Math.sqrt(5 / 3), { relative: 1e-12 });
  });

  it("sum over groups", () => {
    const sums = frame().groupby(["block"]).col(["median_ohm_m", "readings"]).sum();
    expect(sums.values).toEqual([
      ["B1", 84, 615.5],
      ["B2", 25, 290],
    ]);
  });

  it("compare, filter and sort", () => {
    const high = frame().query(frame().column("median_ohm_m").gt(30));
    expect(high.shape).toEqual([2, 3]);
    const sorted = frame().sortValues("median_ohm_m") as DataFrame;
    expect(sorted.column("median_ohm_m").values).toEqual([25, 40, 44]);
  });
});

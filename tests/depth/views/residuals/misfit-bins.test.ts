import { describe, expect, it } from "vitest";
import { binMisfit, misfitBins } from "../../../../lib/depth/views/residuals/misfit-bins.js";
import { makeFittedSlices } from "../../../support/fitted-slices.js";

describe("bins of misfit", () => {
  it("hold five stations or more, break at gaps, and cover every station once", () => {
    const value = makeFittedSlices({
      gaps_m: [
        [100, 120],
        [126, 140],
      ],
    });
    const bins = misfitBins(value);
    const stations = bins.flatMap(({ first, end }) =>
      Array.from({ length: end - first }, (_, k) => first + k),
    );
    expect(stations).toEqual([...value.gap.keys()].filter((i) => value.gap[i] === ""));
    // Between the gaps stand two stations, 122 and 124 m: fewer than a bin wants, and all there
    // are.
    const short = bins.filter(({ first, end }) => end - first < 5);
    expect(short.map(({ from_m, to_m }) => [from_m, to_m])).toEqual([[121, 125]]);
  });

  it("are the root mean square of what is there", () => {
    const bin = { from_m: 0, to_m: 4, first: 0, end: 2, run: 0 };
    expect(binMisfit([Float64Array.of(3, Number.NaN), Float64Array.of(4, 5)], bin)).toBe(
      Math.sqrt(50 / 3),
    );
    expect(binMisfit([Float64Array.of(Number.NaN, Number.NaN)], bin)).toBeNaN();
  });
});

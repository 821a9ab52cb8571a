import { describe, expect, it } from "vitest";
import { runsWhere, widened } from "../../../lib/interference/anomaly/reading-run.js";

describe("widened", () => {
  const chainage_m = Float64Array.of(0, 1, 1, 2.5, 4, 7);

  it("takes in the readings within reach of both ends, the limit among them", () => {
    expect(widened(chainage_m, { first: 3, last: 3 }, 1.5)).toEqual({ first: 1, last: 4 });
    expect(widened(chainage_m, { first: 1, last: 4 }, 1)).toEqual({ first: 0, last: 4 });
  });

  it("ends with the line, and takes readings at one place together", () => {
    expect(widened(chainage_m, { first: 3, last: 3 }, 99)).toEqual({ first: 0, last: 5 });
    expect(widened(chainage_m, { first: 1, last: 1 }, 0)).toEqual({ first: 1, last: 2 });
  });
});

describe("runsWhere", () => {
  it("finds every run, those at the ends too", () => {
    const holds = [true, false, true, true, false, false, true];
    expect(runsWhere(7, (i) => holds[i] === true)).toEqual([
      { first: 0, last: 0 },
      { first: 2, last: 3 },
      { first: 6, last: 6 },
    ]);
    expect(runsWhere(3, () => false)).toEqual([]);
    expect(runsWhere(3, () => true)).toEqual([{ first: 0, last: 2 }]);
  });
});

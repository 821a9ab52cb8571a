import { describe, expect, it } from "vitest";
import { middleLine } from "../../../lib/interference/parallel/middle-line.js";
import { expectClose } from "../../support/expect-close.js";

describe("middleLine", () => {
  const points = Array.from({ length: 40 }, (_, at) => ({ at, value: 3 - 0.5 * at }));

  it("is the line itself where the values lie on one", () => {
    for (const at of [0, 17, 60])
      expectClose(middleLine(points)(at), 3 - 0.5 * at, { absolute: 1e-9 });
  });

  it("does not follow a quarter of the values that lie far off", () => {
    const off = points.map((one) => (one.at % 4 === 1 ? { ...one, value: 1e3 } : one));
    // Of the pair slopes 6 in 16 have an end far off, half of them to either side.
    for (const at of [0, 20, 39]) expectClose(middleLine(off)(at), 3 - 0.5 * at, { absolute: 0.5 });
  });

  it("is 0 without values, and level with one", () => {
    expect(middleLine([])(5)).toBe(0);
    expect(middleLine([{ at: 2, value: 7 }])(5)).toBe(7);
  });
});

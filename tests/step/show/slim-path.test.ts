import fc from "fast-check";
import { expect, it } from "vitest";
import { slimPath } from "../../../lib/step/show/slim-path.js";

it("tells a line's end from its start, and starts anew after a closed path", () => {
  expect(slimPath("M446,70.8L447.7,66.3L446.96,-1")).toBe("M446,70.8l1.7-4.5l-.7-67.3");
  expect(slimPath("M1,1L2,2ZM5,5L6,5Z")).toBe("M1,1l1,1ZM5,5l1,0Z");
});

it("only rounds other curves", () => {
  expect(slimPath("M0.126,0C1,1,2.346,2,3,3L9,9")).toBe("M0.13,0C1,1,2.35,2,3,3L9,9");
});

it("takes no longer over long numbers before a curve", () => {
  const long = "M0.12345678901234567,0.12345678901234567";
  expect(slimPath(`${long}L${long.slice(1)}C1,1,2,2,3,3`)).toBe("M0.12,0.12L0.12,0.12C1,1,2,2,3,3");
});

it("ends every line where it was, to a tenth, however many follow each other", () => {
  const places = fc.array(
    fc.tuple(
      fc.double({ min: -900, max: 900, noNaN: true }),
      fc.double({ min: -900, max: 900, noNaN: true }),
    ),
    { minLength: 2, maxLength: 60 },
  );
  fc.assert(
    fc.property(places, (given) => {
      const d = given.map(([x, y], i) => `${i === 0 ? "M" : "L"}${x},${y}`).join("");
      let [x, y] = [0, 0];
      const ends = [...slimPath(d).matchAll(/([MLl])(-?\d*\.?\d+),?(-?\d*\.?\d+)/g)].map(
        ([, letter, dx, dy]) => {
          [x, y] = letter === "l" ? [x + Number(dx), y + Number(dy)] : [Number(dx), Number(dy)];
          return [x, y] as const;
        },
      );
      expect(ends).toHaveLength(given.length);
      for (const [i, [endX, endY]] of ends.entries()) {
        // Half a tenth of rounding, and the last digits of sums.
        expect(Math.abs(endX - given[i]![0])).toBeLessThan(0.0501);
        expect(Math.abs(endY - given[i]![1])).toBeLessThan(0.0501);
      }
    }),
  );
});

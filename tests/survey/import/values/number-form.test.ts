import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  isNumber,
  plainNumber,
  recogniseNumbers,
} from "../../../../lib/survey/import/values/number-form.js";

/** A number as some program writes it. */
function written(value: number, digits: number, decimal: string, group: string): string {
  const [whole = "", part] = Math.abs(value).toFixed(digits).split(".");
  const grouped = group === "" ? whole : whole.replace(/\B(?=(\d{3})+$)/g, group);
  return `${value < 0 ? "-" : ""}${grouped}${part === undefined ? "" : decimal + part}`;
}

const FORMS = [
  [".", ""],
  [",", ""],
  [".", ","],
  [",", "."],
  [",", " "],
  [".", "'"],
] as const;

describe("the form of numbers", () => {
  it("is told from any column whose decimals are not three, and reads it back", () => {
    const values = fc.array(fc.double({ min: -5e6, max: 5e6, noNaN: true }), { minLength: 5 });
    const digits = fc.constantFrom(1, 2, 4, 5);
    fc.assert(
      fc.property(values, digits, fc.constantFrom(...FORMS), (numbers, d, [decimal, group]) => {
        const cells = [1234567.5, ...numbers].map((value) => written(value, d, decimal, group));
        const found = recogniseNumbers(cells)!;
        expect(found.isSure).toBe(true);
        for (const [i, value] of [1234567.5, ...numbers].entries()) {
          expect(isNumber(cells[i]!)).toBe(true);
          expect(Number(plainNumber(cells[i]!, found.form))).toBe(Number(value.toFixed(d)));
        }
      }),
      { seed: 7, numRuns: 300 },
    );
  });

  it("stays open where three digits behind a comma may be decimals or thousands", () => {
    expect(recogniseNumbers(["1,234", "5,678"])).toMatchObject({ isSure: false });
    expect(recogniseNumbers(["1,234", "0,678"])).toMatchObject({
      isSure: true,
      form: { decimal: "," },
    });
    expect(recogniseNumbers(["1,234", "5.5"])).toMatchObject({ form: { decimal: "." } });
    expect(recogniseNumbers(["12", "13"])).toMatchObject({ isSure: true });
  });

  it("is none where columns contradict each other", () => {
    expect(recogniseNumbers(["1,5", "1.5"])).toBeNull();
  });

  it.each(["", "a", "1.2.3", "1,2,3", "--1", "1e", "12 ppm", "0x10", "1..2"])(
    "is not that of %j",
    (cell) => {
      expect(plainNumber(cell, { decimal: ".", group: null })).toBeNull();
    },
  );

  it("reads no decimal comma as thousands, nor a point as nothing", () => {
    expect(plainNumber("1.5", { decimal: ",", group: null })).toBeNull();
    expect(plainNumber("1,5", { decimal: ".", group: null })).toBeNull();
  });
});

import { describe, expect, expectTypeOf, it } from "vitest";
import {
  isWithin,
  numberOption,
  numberOr,
  numbersOption,
  rangeText,
} from "../../../lib/step/options/number.js";
import type { AnyOption, Option } from "../../../lib/step/options/option.js";
import { faultText } from "../../../lib/step/step-error.js";

const meaning = "Of the test.";

/** Code and sentence of every fault of a value. */
const said = (option: AnyOption, value: unknown) =>
  option.faults(value, "options.x").map((fault) => [fault.code, faultText("walk", fault)]);

describe("rangeText", () => {
  it.each([
    [{}, "", "a finite number"],
    [{}, "m", "a finite number in m"],
    [{ above: 0 }, "m", "a number above 0 m"],
    [{ from: 0, upTo: 1 }, "", "a number at least 0 and at most 1"],
    [{ above: 0, below: 1 }, "", "a number above 0 and below 1"],
    [{ whole: true }, "", "a whole number"],
    [{ whole: true, from: 1 }, "h", "a whole number at least 1 h"],
  ])("writes %j with the unit %j as %s", (range, unit, text) => {
    expect(rangeText(range, unit)).toBe(text);
  });
});

describe("isWithin", () => {
  it.each([
    [{ above: 0 }, [1e-300, 7], [0, -1]],
    [{ from: 0 }, [0, 7], [-1e-300]],
    [{ below: 1 }, [0.999, -7], [1]],
    [{ upTo: 1 }, [1, -7], [1.001]],
    [{ whole: true }, [-3, 0], [0.5]],
    [{}, [-1e300, 1e300], []],
  ])("keeps the ends of %j", (range, inside, outside) => {
    expect(inside.filter((value) => isWithin(value, range))).toEqual(inside);
    expect(outside.filter((value) => isWithin(value, range))).toEqual([]);
  });

  it.each([Number.NaN, Infinity, -Infinity, "1", null, undefined, 1n, [1]])(
    "holds %s for no finite number",
    (value) => {
      expect(isWithin(value, {})).toBe(false);
    },
  );
});

describe("numberOption", () => {
  const option = numberOption({ default: 5, above: 0, upTo: 20, unit: "m", meaning });

  it("declares a choice with its rule", () => {
    expectTypeOf(option).toEqualTypeOf<Option<number>>();
    expect(option).toMatchObject({ default: 5, unit: "m", meaning, role: "choice" });
    expect(option.rule).toBe("a number above 0 and at most 20 m");
    expect(said(option, 20)).toEqual([]);
  });

  it.each([
    [0, "option-range", "got 0"],
    [Number.NaN, "option-range", "got NaN"],
    [Infinity, "option-range", "got Infinity"],
    ["5", "option-value", 'got "5"'],
    [null, "option-value", "got null"],
  ])("refuses %s", (value, code, got) => {
    const text = `walk: options.x must be a number above 0 and at most 20 m, ${got}`;
    expect(said(option, value)).toEqual([[code, text]]);
  });
});

describe("numberOr", () => {
  const option = numberOr(["mbic", null], { default: "mbic", from: 0, meaning });

  it("takes the words beside the numbers, and their types", () => {
    expectTypeOf(option).toEqualTypeOf<Option<number | "mbic" | null>>();
    expect([0, 3, "mbic", null].flatMap((value) => said(option, value))).toEqual([]);
    // @ts-expect-error a word that is none of those named
    expect(numberOr(["mbic"], { default: "bic", meaning }).rule).toContain("mbic");
  });

  it.each([
    [-1, "option-range", "got -1"],
    ["mbik", "option-value", 'got "mbik" (did you mean "mbic"?)'],
    ["auto", "option-value", 'got "auto"'],
    [undefined, "option-value", "got undefined"],
  ])("refuses %s", (value, code, got) => {
    const text = `walk: options.x must be a number at least 0, or "mbic" or null, ${got}`;
    expect(said(option, value)).toEqual([[code, text]]);
  });
});

describe("numbersOption", () => {
  const option = numbersOption({
    ...{ default: [0, 1], from: 0, unit: "m", least: 2, rising: true, meaning },
  });

  it("takes lists and typed arrays of numbers, and freezes its default", () => {
    expectTypeOf(option).toEqualTypeOf<Option<readonly number[]>>();
    expect(said(option, [0, 0.5])).toEqual([]);
    expect(said(option, new Float64Array([0, 0.5]))).toEqual([]);
    expect(Object.isFrozen(option.default)).toBe(true);
  });

  it.each([
    [[0], "option-value", `x must be ${option.rule}, got [0]`],
    [3, "option-value", `x must be ${option.rule}, got 3`],
    [null, "option-value", `x must be ${option.rule}, got null`],
    [[1, -1, -2], "option-range", "x[1] must be a number at least 0 m, got -1"],
    [[1, "2"], "option-value", 'x[1] must be a number at least 0 m, got "2"'],
    [[0, 1, 1], "option-range", "x[2] must be above the one before it, 1, got 1"],
    [[0, Number.NaN], "option-range", "x[1] must be a number at least 0 m, got NaN"],
  ])("refuses %j", (value, code, text) => {
    expect(said(option, value)).toEqual([[code, `walk: options.${text}`]]);
  });

  it("reads as a sentence whatever the numbers", () => {
    expect(option.rule).toBe("a list of 2 or more, each a number at least 0 m, rising");
    expect(numbersOption({ default: [], meaning }).rule).toBe("a list, each a finite number");
    expect(numbersOption({ default: [], whole: true, meaning }).rule).toBe(
      "a list, each a whole number",
    );
    expect(said(numbersOption({ default: [], meaning }), [])).toEqual([]);
  });
});

import { describe, expect, expectTypeOf, it } from "vitest";
import { type Given, resultValue, StepResult } from "../../lib/step/step-result.js";

const accounting = {
  ...{ readings: 10, kept: 5, corrected: 2 },
  setAside: [
    { cause: "noise", readings: 2 },
    { cause: "no value", readings: 1 },
  ],
};
const account = {
  ...{ step: "walk", summary: "", value: { at_m: new Float64Array([1]), tags: ["a"] } },
  ...{ used: {}, basis: [], cautions: [], figures: [], tables: [], accounting },
};

describe("StepResult", () => {
  it("is frozen with all it holds, typed arrays excepted", () => {
    const { value } = new StepResult(account);
    expect(Object.isFrozen(value) && Object.isFrozen(value.tags)).toBe(true);
    value.at_m[0] = 2;
    expect(value.at_m[0]).toBe(2);
  });

  it("does not take an account that does not add up", () => {
    const short = { ...accounting, kept: 4 };
    expect(() => new StepResult({ ...account, accounting: short })).toThrow(
      "walk: the account of readings does not add up",
    );
  });
});

describe("resultValue", () => {
  it("takes a value or the result that holds it", () => {
    const given: Given<{ readonly tags: readonly string[] }> = new StepResult(account);
    expectTypeOf(resultValue(given)).toEqualTypeOf<{ readonly tags: readonly string[] }>();
    expect(resultValue(given)).toBe(account.value);
    expect(resultValue(account.value)).toBe(account.value);
  });
});

import { describe, expect, expectTypeOf, it } from "vitest";
import {
  callbackOption,
  choiceOption,
  customOption,
  flagOption,
  groupOption,
  textOption,
} from "../../../lib/step/options/kinds.js";
import { numberOption, numberOr } from "../../../lib/step/options/number.js";
import type { AnyOption, Option } from "../../../lib/step/options/option.js";
import { faultText } from "../../../lib/step/step-error.js";

const meaning = "Of the test.";
const said = (option: AnyOption, value: unknown) =>
  option.faults(value, "options.x").map((fault) => faultText("walk", fault));
const codes = (option: AnyOption, value: unknown) =>
  option.faults(value, "options.x").map(({ code, path }) => [code, path]);

describe("choiceOption", () => {
  const option = choiceOption(["robust", "least squares"], { default: "robust", meaning });

  it("takes its words only, and guesses at a misspelt one", () => {
    expectTypeOf(option).toEqualTypeOf<Option<"robust" | "least squares">>();
    // @ts-expect-error the default is one of the words
    choiceOption(["robust"], { default: "rough", meaning });
    expect(said(option, "least squares")).toEqual([]);
    const rule = 'walk: options.x must be one of "robust", "least squares", got';
    expect(said(option, "robsut")).toEqual([`${rule} "robsut" (did you mean "robust"?)`]);
    expect(said(option, "none")).toEqual([`${rule} "none"`]);
    expect(said(option, null)).toEqual([`${rule} null`]);
    expect(codes(option, 3)).toEqual([["option-value", "options.x"]]);
  });
});

describe("flagOption", () => {
  it("takes true and false and nothing that counts as them", () => {
    const option = flagOption({ default: true, meaning });
    expectTypeOf(option).toEqualTypeOf<Option<boolean>>();
    expect([true, false].flatMap((value) => said(option, value))).toEqual([]);
    expect([0, "true", null].flatMap((value) => said(option, value))).toEqual([
      "walk: options.x must be true or false, got 0",
      'walk: options.x must be true or false, got "true"',
      "walk: options.x must be true or false, got null",
    ]);
  });
});

describe("textOption", () => {
  it("refuses a blank text and what is none", () => {
    const option = textOption({ default: "a", meaning });
    expect(said(option, "b")).toEqual([]);
    expect([" ", 3].flatMap((value) => said(option, value))).toEqual([
      'walk: options.x must be a text that is not blank, got " "',
      "walk: options.x must be a text that is not blank, got 3",
    ]);
  });
});

describe("customOption", () => {
  const words = { default: 2, meaning, rule: "an even number" };
  const fault = { code: "odd", path: "options.x.inner", expected: "even", received: "3" };

  it("asks the rule of its own", () => {
    const option = customOption<number>({ ...words, holds: (value) => Number(value) % 2 === 0 });
    expectTypeOf(option).toEqualTypeOf<Option<number>>();
    expect(said(option, 4)).toEqual([]);
    expect(said(option, 3)).toEqual(["walk: options.x must be an even number, got 3"]);
  });

  it("gives faults with paths of their own, and its rule only where there are none", () => {
    const option = customOption<number>({
      ...words,
      holds: (value) => value !== 0,
      faults: (value) => (value === 3 ? [fault] : []),
    });
    expect(option.faults(3, "options.x")).toEqual([fault]);
    expect(codes(option, 0)).toEqual([["option-value", "options.x"]]);
    expect(codes(option, 2)).toEqual([]);
  });
});

describe("groupOption", () => {
  const reach = groupOption(
    {
      incident: numberOption({ default: 15, above: 0, unit: "m", meaning }),
      structure: numberOr([null], { default: null, above: 0, meaning }),
    },
    { meaning },
  );
  const nested = groupOption({ reach, even: flagOption({ default: false, meaning }) }, { meaning });

  it("has the defaults of its members, frozen, and their types", () => {
    type Reach = { readonly incident: number; readonly structure: number | null };
    expectTypeOf(reach).toEqualTypeOf<Option<Reach>>();
    expectTypeOf(nested.default.reach.incident).toEqualTypeOf<number>();
    expect(nested.default).toEqual({ reach: { incident: 15, structure: null }, even: false });
    expect(Object.isFrozen(nested.default) && Object.isFrozen(nested.default.reach)).toBe(true);
    expect(said(reach, { incident: 1, structure: null })).toEqual([]);
  });

  it("finds every fault, at any depth, in the order of the members", () => {
    const given = { reach: { structure: -1, incident: "a" }, even: 1, evne: true };
    expect(said(nested, given)).toEqual([
      'walk: options.x.reach.incident must be a number above 0 m, got "a"',
      "walk: options.x.reach.structure must be a number above 0, or null, got -1",
      "walk: options.x.even must be true or false, got 1",
      'walk: options.x.evne must be one of reach, even, got "evne" (did you mean even?)',
    ]);
  });

  it("asks for its members together: one left out has no default then", () => {
    expect(said(reach, { structure: null })).toEqual([
      "walk: options.x.incident must be a number above 0 m, got undefined " +
        "(incident, structure are given together)",
    ]);
  });

  it.each([[3], [null], ["a"], [[1, 2]]])("refuses %j for a group", (value) => {
    expect(codes(reach, value)).toEqual([["option-value", "options.x"]]);
    expect(said(reach, value)[0]).toContain("must be an object of incident, structure, got");
  });
});

describe("callbackOption", () => {
  it("is a function or null, and a callback by its role", () => {
    const option = callbackOption<(share: number) => void>("Told of progress.");
    expectTypeOf(option).toEqualTypeOf<Option<((share: number) => void) | null>>();
    expect(option).toMatchObject({ default: null, role: "callback" });
    expect([null, () => {}].flatMap((value) => said(option, value))).toEqual([]);
    expect(said(option, "log")).toEqual(['walk: options.x must be a function, or null, got "log"']);
  });
});

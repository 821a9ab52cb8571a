import { describe, expect, expectTypeOf, it } from "vitest";
import {
  callbackOption,
  choiceOption,
  customOption,
  groupOption,
} from "../../../lib/step/options/kinds.js";
import { numberOption, numberOr, numbersOption } from "../../../lib/step/options/number.js";
import type { OptionsOf } from "../../../lib/step/options/option.js";
import {
  defaultsOf,
  optionFaults,
  resolved,
  shownOptions,
  soundOptions,
} from "../../../lib/step/options/resolve.js";

const meaning = "Of the test.";
const specs = {
  pace_m: numberOption({ default: 5, above: 0, unit: "m", meaning }),
  penalty: numberOr(["mbic", null], { default: "mbic", from: 0, meaning }),
  model: choiceOption(["plain", "robust"], { default: "plain", meaning }),
  levels_m: numbersOption({ default: [0, 1], unit: "m", meaning }),
  reach: groupOption({ far_m: numberOption({ default: 9, meaning }) }, { meaning }),
  earlier: customOption<{ readonly rows: readonly number[] } | null>({
    ...{ default: null, meaning, rule: "a list of rows, or null", role: "data" },
    shown: (value) => (value === null ? null : `${value.rows.length} rows`),
  }),
  progress: callbackOption<(share: number) => void>(meaning),
};
type Options = OptionsOf<typeof specs>;

describe("OptionsOf", () => {
  it("has the type of each option, read-only", () => {
    expectTypeOf<Options>().toEqualTypeOf<{
      readonly pace_m: number;
      readonly penalty: number | "mbic" | null;
      readonly model: "plain" | "robust";
      readonly levels_m: readonly number[];
      readonly reach: { readonly far_m: number };
      readonly earlier: { readonly rows: readonly number[] } | null;
      readonly progress: ((share: number) => void) | null;
    }>();
  });

  it("lets no wrong option pass the compiler", () => {
    const taken = (options: Partial<Options>) => Object.keys(options);
    // @ts-expect-error the option's name is misspelt
    expect(taken({ pace: 3 })).toEqual(["pace"]);
    // @ts-expect-error a number, not a text
    taken({ pace_m: "3" });
    // @ts-expect-error null is none of its values
    taken({ pace_m: null });
    // @ts-expect-error none of the words
    taken({ model: "rough" });
    // @ts-expect-error a member of the group is missing
    taken({ reach: {} });
    // @ts-expect-error left out is not the same as undefined
    taken({ penalty: undefined });
    taken({ penalty: null, progress: (share: number) => void share });
  });
});

describe("resolved", () => {
  it("takes what is given, null too, and the default of what is left out or undefined", () => {
    const given = { penalty: null, pace_m: undefined } as unknown as Partial<Options>;
    expect(resolved(specs, given)).toEqual({ ...defaultsOf(specs), penalty: null });
  });

  it("freezes the options and leaves lists and groups of the user as they are", () => {
    const given = { levels_m: [1, 2], reach: { far_m: 3 } };
    const used = resolved(specs, given);
    given.levels_m[0] = 7;
    given.reach.far_m = 7;
    expect(used).toMatchObject({ levels_m: [1, 2], reach: { far_m: 3 } });
    expect(Object.isFrozen(used)).toBe(true);
  });

  it("hands data on as they are", () => {
    const earlier = { rows: [1] };
    expect(resolved(specs, { earlier }).earlier).toBe(earlier);
  });

  it("keeps typed arrays and what has a class of its own", () => {
    const when = new Date(0);
    const open = { any: customOption<unknown>({ default: null, meaning, rule: "" }) };
    expect(resolved(open, { any: new Float64Array([1]) }).any).toEqual(new Float64Array([1]));
    expect(resolved(open, { any: when }).any).toBe(when);
  });
});

describe("defaultsOf", () => {
  it("is frozen, with all it holds", () => {
    const defaults = defaultsOf(specs);
    expectTypeOf(defaults).toEqualTypeOf<Options>();
    expect([defaults, defaults.levels_m, defaults.reach].every(Object.isFrozen)).toBe(true);
  });
});

describe("optionFaults", () => {
  const found = (given: unknown) =>
    optionFaults(specs, given).map(({ code, path, hint }) => [code, path, hint]);

  it("finds all faults, in the order in which the options are given", () => {
    expect(found({ model: "x", pase_m: 1, pace_m: 0, levels_m: [0, "a"], progress: 1 })).toEqual([
      ["option-value", "options.model", undefined],
      ["option-unknown", "options.pase_m", "did you mean pace_m?"],
      ["option-range", "options.pace_m", undefined],
      ["option-value", "options.levels_m[1]", undefined],
      ["option-value", "options.progress", undefined],
    ]);
  });

  it("finds no fault where nothing is given or undefined, and one in a null", () => {
    expect(found({})).toEqual([]);
    expect(found({ pace_m: undefined, penalty: null, earlier: null })).toEqual([]);
    expect(found({ pace_m: null })).toEqual([["option-value", "options.pace_m", undefined]]);
  });

  it("takes no inherited name for an option", () => {
    expect(found({ toString: 1 })).toEqual([["option-unknown", "options.toString", undefined]]);
    expect(optionFaults({}, { any: 1 })[0]?.expected).toBe("left out: there are no options");
  });

  it.each([[null], [3], ["pace_m"], [[1]]])("refuses %j for options", (given) => {
    expect(found(given)).toEqual([["option-value", "options", undefined]]);
    expect(soundOptions(specs, given as never)).toEqual({});
  });
});

describe("soundOptions", () => {
  it("leaves out what has a fault", () => {
    const given = { pace_m: -1, penalty: 3, model: "robsut" } as never;
    expect(soundOptions(specs, given)).toEqual({ penalty: 3 });
  });
});

describe("shownOptions", () => {
  it("shows choices as they are, data in short, and callbacks not at all", () => {
    const used = resolved(specs, { earlier: { rows: [1, 2] }, progress: () => {} });
    const { progress: _, ...rest } = used;
    expect(shownOptions(specs, used)).toEqual({ ...rest, earlier: "2 rows" });
  });

  it("shows what the option says even where that is null", () => {
    const hidden = { a: numberOption({ default: 1, meaning, shown: () => null }) };
    expect(shownOptions(hidden, { a: 1 })).toEqual({ a: null });
  });
});

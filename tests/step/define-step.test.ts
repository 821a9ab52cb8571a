import { describe, expect, expectTypeOf, it } from "vitest";
import { defineStep, runLongStep, runStep } from "../../lib/step/define-step.js";
import { numberOption, numbersOption } from "../../lib/step/options/number.js";
import { StepError } from "../../lib/step/step-error.js";
import type { StepResult } from "../../lib/step/step-result.js";

const meaning = "Of the test.";
const options = {
  from_m: numberOption({ default: 0, from: 0, unit: "m", meaning }),
  to_m: numberOption({ default: 10, from: 0, unit: "m", meaning }),
  weights: numbersOption({ default: [1, 2], meaning }),
};

interface Walk {
  readonly steps: number;
}

const walk = defineStep({
  name: "walk",
  options,
  faults: (input: Walk, used) => [
    ...(input.steps > 0
      ? []
      : [{ code: "steps", path: "input.steps", expected: "above 0", received: `${input.steps}` }]),
    ...(used.to_m > used.from_m
      ? []
      : [{ code: "order", path: "options.to_m", expected: "above from_m", received: "less" }]),
  ],
  run: ({ steps }, { from_m, to_m }) => (to_m - from_m) / steps,
  report: (pace_m, used, input) => ({
    value: { pace_m },
    summary: `${input.steps} steps of ${pace_m} m from ${used.from_m} m.`,
    cautions: ["Paces differ."],
  }),
});

const longWalk = defineStep({ ...walk, name: "longWalk", run: async ({ steps }: Walk) => steps });

const faultsOf = (input: Walk, given: object) => {
  try {
    runStep(walk, input, given);
  } catch (error) {
    expect(error).toBeInstanceOf(StepError);
    return (error as StepError).faults.map(({ code, path }) => [code, path]);
  }
  return expect.unreachable();
};

describe("runStep", () => {
  it("resolves, runs and reports; what a report leaves out is empty", () => {
    const result = runStep(walk, { steps: 4 }, { from_m: 2 });
    expectTypeOf(result).toEqualTypeOf<StepResult<{ pace_m: number }>>();
    expect({ ...result }).toEqual({
      ...{ step: "walk", summary: "4 steps of 2 m from 2 m.", value: { pace_m: 2 } },
      used: { from_m: 2, to_m: 10, weights: [1, 2] },
      cautions: [{ step: "walk", text: "Paces differ." }],
      ...{ basis: [], accounting: null, figures: [], tables: [] },
    });
  });

  it("leaves what it was given open to change", () => {
    const given = { weights: [3, 4] };
    const result = runStep(walk, { steps: 4 }, given);
    given.weights[0] = 9;
    expect(result.used.weights).toEqual([3, 4]);
  });

  it("tells faults of options first, then those of input and of options together", () => {
    expect(faultsOf({ steps: 0 }, { to_mm: 1, weights: 3, from_m: 20 })).toEqual([
      ["option-unknown", "options.to_mm"],
      ["option-value", "options.weights"],
      ["steps", "input.steps"],
      ["order", "options.to_m"],
    ]);
  });

  it("lets an option with a fault of its own raise no second one", () => {
    expect(faultsOf({ steps: 1 }, { from_m: 20, to_m: -1 })).toEqual([
      ["option-range", "options.to_m"],
      ["order", "options.to_m"],
    ]);
    expect(faultsOf({ steps: 1 }, { to_m: -1 })).toEqual([["option-range", "options.to_m"]]);
  });

  it.each([[null], ["far"], [[1]]])("refuses %j for options", (given) => {
    expect(faultsOf({ steps: 1 }, given as never)).toEqual([["option-value", "options"]]);
  });

  it("checks input and options of a call when it compiles", () => {
    // @ts-expect-error the input lacks its steps
    expect(() => runStep(walk, {}, {})).toThrow("walk: input.steps must be above 0");
    // @ts-expect-error a text is no number
    expect(() => runStep(walk, { steps: 1 }, { to_m: "far" })).toThrow('got "far"');
    // @ts-expect-error work that gives a promise is asked for by runLongStep
    expect(runStep(longWalk, { steps: 1 }, {}).step).toBe("longWalk");
  });
});

describe("runLongStep", () => {
  it("waits for the work", async () => {
    const result = await runLongStep(longWalk, { steps: 3 }, {});
    expect(result.value).toEqual({ pace_m: 3 });
    expect((await runLongStep(walk, { steps: 2 }, {})).value).toEqual({ pace_m: 5 });
  });

  it("rejects with every fault", async () => {
    await expect(runLongStep(longWalk, { steps: 0 }, { to_m: -1 })).rejects.toMatchObject({
      faults: [{ code: "option-range" }, { code: "steps" }],
    });
  });
});

describe("defineStep", () => {
  it("freezes the definition", () => {
    expect(Object.isFrozen(walk)).toBe(true);
  });
});

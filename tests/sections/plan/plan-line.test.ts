import { describe, expect, it } from "vitest";
import type { LineTarget } from "../../../lib/sections/plan/line-plan.js";
import { planLine } from "../../../lib/sections/plan/plan-line.js";
import { StepError } from "../../../lib/step/step-error.js";

const target = { length_m: 6, top_m: 1, base_m: 3, resistivityRatio: 4 };

async function faultsOf(of: unknown, options = {}): Promise<string[]> {
  const error = await planLine(of as LineTarget, options).catch((thrown: unknown) => thrown);
  expect(error).toBeInstanceOf(StepError);
  return (error as StepError).faults.map(({ code, path }) => `${code} ${path}`);
}

describe("planLine", () => {
  it.each([
    [null, {}, ["target.length_m", "target.top_m", "target.base_m", "target.resistivityRatio"]],
    [{ ...target, length_m: Number.NaN }, {}, ["target.length_m"]],
    [{ ...target, base_m: 1 }, {}, ["order target.base_m"]],
    [{ ...target, resistivityRatio: 1 }, {}, ["no-target target.resistivityRatio"]],
    [target, { trials: 1 }, ["options.trials"]],
    [
      target,
      { earth: { resistivity_ohm_m: [50, -1], thickness_m: [2] } },
      ["resistivity_ohm_m[1]"],
    ],
    [target, { array: "Wenner", electrodes: 8 }, ["too-few-readings options.electrodes"]],
  ])("refuses %o with %o", async (of, options, paths) => {
    const found = await faultsOf(of, options);
    expect(found).toHaveLength(paths.length);
    for (const [i, path] of paths.entries()) expect(found[i]).toContain(path);
  });
});

import { expect, it } from "vitest";
import { groupOption } from "../../../lib/step/options/kinds.js";
import { numberOption, numberOr } from "../../../lib/step/options/number.js";
import { optionsTable } from "../../../lib/step/options/options-table.js";

it("documents each option by its rule, its default and its meaning", () => {
  const pace_m = numberOption({ default: 5, above: 0, unit: "m", meaning: "A step." });
  const penalty = numberOr(["mbic"], { default: "mbic", from: 0, meaning: "A cost." });
  const both = groupOption({ pace_m, penalty }, { meaning: "Both." });
  expect(optionsTable("walk", { pace_m, penalty, both }).rows).toEqual([
    { option: "pace_m", rule: "a number above 0 m", standard: "5", meaning: "A step." },
    {
      ...{ option: "penalty", rule: 'a number at least 0, or "mbic"' },
      ...{ standard: "mbic", meaning: "A cost." },
    },
    {
      ...{ option: "both", rule: "an object of pace_m, penalty" },
      ...{ standard: "pace_m: 5; penalty: mbic", meaning: "Both." },
    },
  ]);
});

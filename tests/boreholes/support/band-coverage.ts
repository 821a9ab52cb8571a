import type { Blocks } from "../../../lib/blocks/blocks.js";
import { laboratoryMean } from "../../../lib/boreholes/soils/logged.js";
import { predictSoils } from "../../../lib/boreholes/soils/predict-soils.js";
import { smallSurvey } from "../../support/small-survey.js";
import type { SeededBank } from "./seeded-bank.js";

export interface Covered {
  readonly inside: number;
  readonly count: number;
}

/**
 * How often the fines that another hole would give lie in the 80 % band that `holes` holes, as they
 * happen to lie, make: at every eighth place along the bank, in every slice.
 */
export function fineBandCoverage(bank: SeededBank, blocks: Blocks, holes: number): Covered {
  const at = Array.from({ length: holes }, (_, i) => (bank.length_m * (i + 0.35)) / holes);
  const boreholes = at.map((chainage_m) => bank.drill(chainage_m, 7));
  const survey = smallSurvey({ boreholes, length_m: bank.length_m });
  const { value } = predictSoils({ survey, slices: bank.slices, blocks }, { step_m: 40 });
  const fines = value.properties.find(({ name }) => name === "fines");
  let [inside, count] = [0, 0];
  for (const [i, x] of value.chainage_m.entries()) {
    const hole = bank.drill(x, 7);
    for (const [k, slice] of value.slices.entries()) {
      const truth = laboratoryMean(hole, slice, ({ fines_pct }) => fines_pct);
      const [low, high] = [fines?.p10[k]?.[i], fines?.p90[k]?.[i]];
      if (truth === null || low === undefined || high === undefined) continue;
      count += 1;
      if (truth >= low && truth <= high) inside += 1;
    }
  }
  return { inside, count };
}

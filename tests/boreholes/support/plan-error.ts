import type { Blocks } from "../../../lib/blocks/blocks.js";
import { predictSoils } from "../../../lib/boreholes/soils/predict-soils.js";
import { smallSurvey } from "../../support/small-survey.js";
import type { SeededBank } from "./seeded-bank.js";

interface Drilled {
  readonly chainage_m: number;
  readonly depth_m: number;
}

/** Places nearer to a hole than this were seen, and are not counted. */
const SEEN_M = 15;

/** Share of slices along a bank whose kind of soil is told wrongly once the holes are drilled. */
export function wrongShare(bank: SeededBank, blocks: Blocks, holes: readonly Drilled[]): number {
  const boreholes = holes.map(({ chainage_m, depth_m }) => bank.drill(chainage_m, depth_m));
  const survey = smallSurvey({ boreholes, length_m: bank.length_m });
  const { value } = predictSoils({ survey, slices: bank.slices, blocks });
  let [wrong, all] = [0, 0];
  for (const [i, x] of value.chainage_m.entries()) {
    if (holes.some(({ chainage_m }) => Math.abs(chainage_m - x) < SEEN_M)) continue;
    for (const k of value.slices.keys()) {
      const told = value.classes.map(({ probability }) => probability[k]![i]!);
      const kind = value.classes[told.indexOf(Math.max(...told))]?.soil;
      all += 1;
      if (kind !== bank.kindAt(x, k)) wrong += 1;
    }
  }
  return wrong / all;
}

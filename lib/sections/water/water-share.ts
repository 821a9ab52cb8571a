import type { Inverted } from "../invert/gauss-newton.js";
import { predictedOf } from "../invert/section-data.js";
import type { SectionProblem } from "../invert/section-problem.js";
import { electrodePotentialsOf, type Turn } from "../model/section-model.js";
import type { SectionWaterShare } from "../section.js";

/** What the water makes of the readings over the section that was found; null without water. */
export async function waterShare(
  { model, data, water }: SectionProblem,
  { logResistivity, residuals }: Inverted,
  turn: Turn,
): Promise<SectionWaterShare | null> {
  const { grid } = model;
  if (water === null || grid.water === null) return null;
  const dry = { ...model, grid: { ...grid, water: null } };
  const resistivity = logResistivity.map(Math.exp);
  const potentials = await electrodePotentialsOf(dry, resistivity, {
    withSensitivities: false,
    turn,
  });
  const { logApparent } = predictedOf(data, potentials);
  const factors = logApparent.map((without, n) =>
    Math.exp(data.logApparent[n]! - residuals.residual[n]! - without),
  );
  const { depth_m } = grid.water;
  return {
    level_m: water.level_m,
    resistivity_ohm_m: water.resistivity_ohm_m,
    electrodes: grid.electrodeColumn.filter((column) => depth_m[column]! > 0).length,
    factors: [Math.min(...factors), Math.max(...factors)],
  };
}

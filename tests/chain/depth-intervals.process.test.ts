import { describe, expect, it } from "vitest";
import type { DepthSlices } from "../../lib/depth/depth-slices.js";
import {
  correctDrift,
  estimateDepthSlices,
  maskInterference,
  openSurvey,
  type StepResult,
} from "../../lib/index.js";
import { median } from "../../lib/numerics/statistics/robust.js";
import { demoFolder, demoTruth, logMean } from "./demo.js";

const slices = [
  { top_m: 0, base_m: 0.5 },
  { top_m: 0.5, base_m: 1.3 },
  { top_m: 1.3, base_m: 3.3 },
];
const Z80 = 1.2815515655;

/** For each slice the deviations from the truth, log10, and the share in the 80 % interval. */
function against({ value }: StepResult<DepthSlices>) {
  const { depthEdges_m, spacing_m, field } = demoTruth.grid;
  return slices.map((slice, k) => {
    const errors: number[] = [];
    let held = 0;
    for (const [i, x] of value.chainage_m.entries()) {
      const column = field[value.campaign]![Math.round(x / spacing_m)];
      const found = value.log10Resistivity[k]![i]!;
      if (column === undefined || Number.isNaN(found)) continue;
      const off = found - logMean(column, depthEdges_m, slice);
      errors.push(Math.abs(10 ** off - 1));
      if (Math.abs(off) <= Z80 * value.sd[k]![i]!) held += 1;
    }
    return { error: median(errors), held: held / errors.length };
  });
}

// The demo's readings hold metal, what drift correction left, and ground that no prior drew, so that
// 80 % are not to be had to the letter: 70 to 90 % of the truths over a campaign's three slices.
describe("the 80 % intervals of the demo's resistivity by depth", () => {
  it("hold seven to nine of ten truths", async () => {
    const survey = await openSurvey(demoFolder);
    for (const campaign of survey.value.campaigns) {
      const masked = await maskInterference(await correctDrift(campaign));
      const found = against(await estimateDepthSlices(masked, { slices }));
      const held = found.reduce((sum, slice) => sum + slice.held / slices.length, 0);
      const told = `${campaign.label}: ${JSON.stringify(found)}`;
      expect(held, told).toBeGreaterThan(0.7);
      expect(held, told).toBeLessThan(0.9);
      for (const slice of found) expect(slice.held, told).toBeGreaterThan(0.7);
      for (const slice of found) expect(slice.error, told).toBeLessThan(0.25);
    }
  });
});

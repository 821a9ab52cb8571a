// Banks of unequal blocks with lenses, variation within blocks and slices that are off: how wide the
// bands are, and what a plan tells beside as many metres at equal spacing.
// SITING_BANKS asks for more of them; the methods were made on seeds 1 to 12, those below chose nothing.
import { describe, expect, it } from "vitest";
import { segmentBlocks } from "../../lib/blocks/segment-blocks.js";
import { siteBoreholes } from "../../lib/boreholes/siting/site-boreholes.js";
import { smallSurvey } from "../support/small-survey.js";
import { fineBandCoverage } from "./support/band-coverage.js";
import { wrongShare } from "./support/plan-error.js";
import { seededBank } from "./support/seeded-bank.js";

const BANKS = Number(process.env.SITING_BANKS ?? 8);
const HOLES = 5;

const mean = (values: readonly number[]) =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/** Standard error of a mean over banks. */
function standardError(values: readonly number[]): number {
  const middle = mean(values);
  const square = values.reduce((sum, value) => sum + (value - middle) ** 2, 0);
  return Math.sqrt(square / (values.length - 1) / values.length);
}

const made = (seed: number) => {
  const bank = seededBank(seed);
  return { bank, blocks: segmentBlocks(bank.slices).value };
};

describe("bands of fines along the bank", () => {
  it("hold about four of five samples of holes that were not drilled", () => {
    const shares = Array.from({ length: BANKS }, (_, i) => {
      const { bank, blocks } = made(2001 + i);
      const { inside, count } = fineBandCoverage(bank, blocks, HOLES);
      return inside / count;
    });
    // Five holes leave hyperparameters open, and the bands a little wide for that: 0.80 to 0.87.
    const slack = 2.5 * standardError(shares);
    expect(mean(shares)).toBeGreaterThan(0.8 - slack);
    expect(mean(shares)).toBeLessThan(0.87 + slack);
  });
});

describe("a plan beside equal spacing", () => {
  it("tells the kind of soil along the bank better at equal metres", () => {
    const pairs = Array.from({ length: BANKS }, (_, i) => {
      const { bank, blocks } = made(5001 + i);
      const survey = smallSurvey({ length_m: bank.length_m });
      const plan = siteBoreholes({ survey, slices: bank.slices, blocks }, { holes: HOLES }).value;
      return [plan.holes, plan.equal.holes].map(wrongShare(bank, blocks));
    });
    // By length most errors are of lenses and of beds that five holes miss wherever they are: a
    // quarter less is not had, a tenth is (`tests/calibration.md`).
    const gains = pairs.map(([plan, equal]) => equal! - plan!);
    const equal = mean(pairs.map(([, spaced]) => spaced!));
    expect(mean(gains)).toBeGreaterThan(0.1 * equal - 2 * standardError(gains));
  });
});

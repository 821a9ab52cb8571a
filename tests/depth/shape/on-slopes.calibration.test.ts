import { describe, expect, it } from "vitest";
import { estimateDepthSlices } from "../../../lib/depth/estimate-depth-slices.js";
import { median } from "../../../lib/numerics/statistics/robust.js";
import type { BankName, SectionName } from "../../abroad/earth/slopes.js";
import { makeSurvey, type SurveyPlan } from "../../abroad/survey.js";
import { campaignsOf } from "../../abroad/written/in-memory.js";

const SLICES = [
  { top_m: 0, base_m: 1 },
  { top_m: 1, base_m: 2.4 },
  { top_m: 2.4, base_m: 3.9 },
];
const INSTRUMENTS = [
  "five frequencies HCP, VCP",
  "three separations HCP, VCP",
  "three separations HCP+PRP",
  "2 and 4 m, mS/m",
] as const;

/** Estimates on the bank less those of the same ground without slopes, ln units, by slice. */
async function biasOf(
  [bank, section]: readonly [BankName, SectionName],
  instrument: SurveyPlan["instrument"],
  shape: "apply" | "leave",
): Promise<readonly number[]> {
  const plan = { seed: 4100, instrument, errors: "exact", length_m: 12 } as const;
  const onBank = makeSurvey({ ...plan, ground: "blocks", slopes: { bank, section } });
  const column = onBank.slopes!.column!;
  const along = { kind: "section", length_m: 12, boundaries_m: [], columnAt: () => column };
  const level = makeSurvey({ ...plan, ground: along });
  const [here, there] = await Promise.all([
    estimateDepthSlices(campaignsOf(onBank)[0]!, { slices: SLICES, shape }),
    estimateDepthSlices(campaignsOf(level)[0]!, { slices: SLICES }),
  ]);
  return SLICES.map((_, k) =>
    median(
      here.value.log10Resistivity[k]!.map(
        (value, i) => Math.LN10 * (value - there.value.log10Resistivity[k]![i]!),
      ),
    ),
  );
}

// Truth: finite elements in the cross-section with charges at every contact (bank-factors.py).
describe("depth slices on a bank with slopes", () => {
  it("are those of level ground where the bank is of one material, with slopes of 1:2.5", async () => {
    for (const bank of ["broad", "narrow"] as const) {
      for (const instrument of INSTRUMENTS) {
        const [top, middle] = await biasOf([bank, "homogeneous"], instrument, "apply");
        expect(Math.abs(top!)).toBeLessThan(0.04);
        expect(Math.abs(middle!)).toBeLessThan(0.1);
        const without = await biasOf([bank, "homogeneous"], instrument, "leave");
        expect(Math.max(...without)).toBeGreaterThan(0.25);
      }
    }
  });

  it("are off by a few percent on other materials, where they were off by half", async () => {
    const sizes = { apply: [] as number[], leave: [] as number[] };
    for (const section of ["on clay", "on sand", "dry crust"] as const) {
      for (const instrument of INSTRUMENTS) {
        for (const shape of ["apply", "leave"] as const) {
          const bias = await biasOf(["narrow", section], instrument, shape);
          sizes[shape].push(...bias.map(Math.abs));
        }
      }
    }
    expect(median(sizes.apply)).toBeLessThan(0.05);
    // Five frequencies on clay: charges at the contact, and what in-phase loses, add up.
    expect(Math.max(...sizes.apply)).toBeLessThan(0.2);
    expect(median(sizes.leave)).toBeGreaterThan(0.25);
  });
});

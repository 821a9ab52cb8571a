import { describe, expect, it } from "vitest";
import { maskInterference } from "../../../lib/interference/mask-interference.js";
import type { Campaign } from "../../../lib/survey/survey.js";
import { campaignsOf, makeSurvey } from "../../abroad/index.js";

/** What no dipole does: wider under longer coils, of one sign under PRP coils and two under HCP ones. */
function bumped(campaign: Campaign, ppm: number): Campaign {
  const passes = campaign.passes.map((pass) => ({
    ...pass,
    values: pass.values.map((column, c) => {
      const { kind, orientation, separation_m } = pass.instrument.channels[c]!;
      const most = ppm * (separation_m / 3) ** 1.5 * (kind === "inphase" ? 1 : 0.35);
      return column.map((value, i) => {
        const d = (pass.chainage_m[i]! - 75) / (2 + separation_m / 2);
        const shape = orientation === "PRP" ? 1 : d * d - 1;
        return value + most * shape * Math.exp((-d * d) / 2);
      });
    }),
  }));
  return { ...campaign, passes };
}

describe("readings that neither ground nor noise comes near", () => {
  const sketch = {
    seed: 180_001,
    ground: "blocks",
    instrument: "three separations HCP+PRP",
  } as const;
  const [campaign] = campaignsOf(makeSurvey({ ...sketch, length_m: 150 }));

  it.each([4000, 9000])("are set aside though no small piece of metal fits them: %d ppm", (ppm) => {
    const { interference } = maskInterference(bumped(campaign!, ppm)).value;
    expect(interference).toHaveLength(1);
    expect(interference[0]!.from_m).toBeLessThan(73);
    expect(interference[0]!.to_m).toBeGreaterThan(77);
  });
});

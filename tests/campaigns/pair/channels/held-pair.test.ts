import { describe, expect, it } from "vitest";
import { compareCampaigns } from "../../../../lib/campaigns/pair/compare-campaigns.js";
import type { DepthSlices } from "../../../../lib/depth/depth-slices.js";
import { seededRandom } from "../../../../lib/numerics/random.js";
import { frozen } from "../../../../lib/step/frozen.js";
import { autumn_s, spring_s } from "../../../support/changed-pair.js";
import { makeDepthSlices } from "../../../support/depth-slices.js";

const CHANNELS = [1.2, 2.4, 4.5].map((separation_m) => ({
  field: `q_${separation_m}`,
  kind: "quadrature" as const,
  unit: "ppm" as const,
  frequency_Hz: 9000,
  separation_m,
  orientation: "HCP" as const,
}));

/** A walk over even ground with readings of three channels and a noise of 2 %. */
function walked(seed: number, campaign: string, time_s: number): DepthSlices {
  const slices = makeDepthSlices({ seed, stations: 120, texture: 0, campaign, time_s });
  const random = seededRandom(seed);
  const readings = CHANNELS.map((channel) => ({
    channel,
    resource: "walk",
    mean: slices.chainage_m.map(
      () => 300 * channel.separation_m ** 2 * (1 + 0.02 * random.normal()),
    ),
    count: new Uint16Array(120).fill(4),
    noise: 5,
  }));
  return frozen({ ...slices, readings });
}

const pair = (seed: number) =>
  [walked(seed, "2031-10", autumn_s), walked(seed + 1, "2032-03", spring_s)] as const;

describe("a pair of campaigns that was compared", () => {
  it("is taken up at another error rate, and with other slices, whatever was compared in between", () => {
    const [earlier, later] = pair(100);
    // The chainages are those of what the comparison rests on: made anew, they would be another column.
    const { chainage_m } = compareCampaigns(earlier, later).value;
    for (const seed of [200, 300, 400, 500]) compareCampaigns(...pair(seed));
    expect(compareCampaigns(earlier, later, { q: 0.2 }).value.chainage_m).toBe(chainage_m);
    const shallower = (one: DepthSlices) =>
      frozen({
        ...one,
        slices: one.slices.slice(0, 2),
        log10Resistivity: one.log10Resistivity.slice(0, 2),
        sd: one.sd.slice(0, 2),
      });
    const other = compareCampaigns(shallower(earlier), shallower(later)).value;
    expect(other.chainage_m).toBe(chainage_m);
    expect(compareCampaigns(...pair(100)).value.chainage_m).not.toBe(chainage_m);
  });

  it("gives the same as where nothing was compared before", () => {
    const [earlier, later] = pair(600);
    compareCampaigns(earlier, later, { q: 0.2 });
    expect(compareCampaigns(earlier, later).value).toEqual(compareCampaigns(...pair(600)).value);
  });
});

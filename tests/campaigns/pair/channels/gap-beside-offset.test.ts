import { describe, expect, it } from "vitest";
import { compareCampaigns } from "../../../../lib/campaigns/pair/compare-campaigns.js";
import { coilResponse } from "../../../../lib/earth/coil-response.js";
import { seededRandom } from "../../../../lib/numerics/random.js";
import { autumn_s, spring_s } from "../../../support/changed-pair.js";
import { makeDepthSlices } from "../../../support/depth-slices.js";
import { expectClose } from "../../../support/expect-close.js";

const STATIONS = 300;
const CHANNELS = [1.2, 2.4, 4.5].flatMap((separation_m) =>
  (["HCP", "VCP"] as const).map((orientation) => ({
    field: `q_${separation_m}_${orientation}`,
    kind: "quadrature" as const,
    unit: "ppm" as const,
    frequency_Hz: 9000,
    separation_m,
    orientation,
  })),
);

interface Walk {
  readonly seed: number;
  /** Height of the coils, and conductivity from 0.5 to 2 m over that of the rest, by chainage. */
  readonly height_m?: (x: number) => number;
  readonly factor?: (x: number) => number;
  /** The first channel has no readings here. */
  readonly gap: (x: number) => boolean;
}

/** A walk over ground of 50 ohm-m with a noise of 1 %, heights unstated. */
function walked({ seed, height_m = () => 1, factor = () => 1, gap }: Walk) {
  const time_s = seed % 2 === 0 ? autumn_s : spring_s;
  const campaign = seed % 2 === 0 ? "2031-10" : "2032-03";
  const slices = makeDepthSlices({ seed, stations: STATIONS, texture: 0, campaign, time_s });
  const random = seededRandom(seed);
  const readings = CHANNELS.map((channel, c) => {
    const mean = slices.chainage_m.map((x) => {
      const conductivity_S_per_m = [0.02, 0.02 * factor(x), 0.02];
      const earth = { conductivity_S_per_m, thickness_m: [0.5, 1.5] };
      const { quadrature_ppm } = coilResponse(earth, { ...channel, height_m: height_m(x) });
      return c === 0 && gap(x) ? Number.NaN : quadrature_ppm * (1 + 0.01 * random.normal());
    });
    const count = Uint16Array.from(mean, (v) => (Number.isNaN(v) ? 0 : 4));
    return { channel, resource: "walk", mean, count, noise: 5 };
  });
  return { ...slices, readings };
}

describe("a change of the ground before a second operator's part of the line", () => {
  const isIn = (from: number, to: number) => (x: number) => x >= from && x < to;

  it.each([
    ["all channels are read", isIn(0, 0)],
    ["a channel has a gap before both", isIn(80, 120)],
  ])("is found where %s", (_, gap) => {
    const factor = (x: number) => (isIn(300, 380)(x) ? 1.3 : 1);
    const height_m = (x: number) => (x >= 480 ? 1.1 : 1);
    const earlier = walked({ seed: 40, gap });
    const later = walked({ seed: 41, gap, factor, height_m });
    const { changes, offsets, detectable } = compareCampaigns(earlier, later).value;
    expect(changes.map(({ direction }) => direction)).toEqual(["fell"]);
    // Five stations of 2 m: the ends are where the likelihood is greatest.
    expectClose(changes[0]!.from_m, 300, { absolute: 10 });
    expectClose(changes[0]!.to_m, 380, { absolute: 10 });
    expect(offsets!.map(({ kind }) => kind)).toEqual(["height"]);
    expectClose(offsets![0]!.height_m, 0.1, { absolute: 0.03 });
    expect(detectable!.some(({ fell }) => fell !== null)).toBe(true);
  });
});

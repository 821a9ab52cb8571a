import { describe, expect, it } from "vitest";
import { channelReaches } from "../../../../lib/depth/views/channels/channel-reach.js";
import { cumulativeResponse } from "../../../../lib/earth/half-space.js";
import { channelOf } from "../../../support/campaign.js";
import { expectClose } from "../../../support/expect-close.js";

// 1 mS/m and 1 Hz: separation over skin depth B = 1.3e-4, where the low-induction relations hold to
// about B: the whole response falls short by 1.07 B (Ward & Hohmann 1988, half-space at small B),
// and what is deep by a little more.
const even = { top_m: [0, 0.5, 1, 2, 4, 7], log10Resistivity: [3, 3, 3, 3, 3, 3] };
const coils = (orientation: "HCP" | "VCP", frequency_Hz = 1) =>
  channelOf({ orientation, frequency_Hz, separation_m: 2 });

describe("channelReaches", () => {
  it("is the published cumulative response where induction is low", () => {
    // McNeill 1980, Technical Note 6: R(z) of what lies below z separations, coils at 0.9 m.
    for (const orientation of ["HCP", "VCP"] as const) {
      const [reach] = channelReaches([coils(orientation)], 0.9, even);
      const below = (z_m: number) => cumulativeResponse(orientation, (0.9 + z_m) / 2);
      for (const [k, z] of reach!.depth_m.entries()) {
        expectClose(reach!.above[k]!, 1 - below(z) / below(0), { absolute: 3e-4 });
      }
      expectClose(below(reach!.median_m), below(0) / 2, { relative: 0.01 });
    }
  });

  it("rises from none at the surface, and is less deep over conductive ground", () => {
    const conductive = { ...even, log10Resistivity: [0, 0, 0, 0, 0, 0] };
    const channels = [coils("HCP", 25_000)];
    const [over] = channelReaches(channels, 0.9, conductive);
    const [under] = channelReaches(channels, 0.9, even);
    expect(over!.above[0]).toBe(0);
    const steps = Array.from(over!.above.subarray(1), (share, k) => share - over!.above[k]!);
    expect(Math.min(...steps)).toBeGreaterThanOrEqual(0);
    expect(over!.median_m).toBeLessThan(under!.median_m);
  });

  it("does not say how deep half lies where that is deeper than it looks", () => {
    const shallow = { top_m: [0, 0.1], log10Resistivity: [3, 3] };
    const wide = channelOf({ separation_m: 50, frequency_Hz: 100 });
    expect(channelReaches([wide], 0, shallow)[0]!.median_m).toBeNaN();
  });
});

import { describe, expect, it } from "vitest";
import { compareCampaigns } from "../../../lib/campaigns/pair/compare-campaigns.js";
import { unknownShare_pct } from "../../../lib/chain/links/unanswered-change.js";
import { estimateDepthSlices } from "../../../lib/depth/estimate-depth-slices.js";
import { walked } from "../../support/walked.js";

describe("compareCampaigns", () => {
  it("compares nothing where all readings of both campaigns are set aside, and says so", async () => {
    const walk = (label: string) => {
      const ground = { conductivity_S_per_m: [0.03], thickness_m: [] };
      const few = { length_m: 8, frequencies_Hz: [4000], orientations: ["HCP"] as const };
      const made = walked({ groundAt: () => ground, label, ...few });
      const passes = made.passes.map((pass) => ({
        ...pass,
        setAside: pass.setAside.map((marks) => marks.map(() => 1)),
      }));
      const causes = [{ kind: "documented" as const, text: "sheet piling" }];
      return estimateDepthSlices({ ...made, passes, causes });
    };
    const [earlier, later] = [await walk("2031-10"), await walk("2032-03")];
    const { value, cautions } = compareCampaigns(earlier, later);
    expect(value.changes).toEqual([]);
    expect(unknownShare_pct(value)).toBe(100);
    expect(cautions.map(({ text }) => text).join(" ")).toContain("Nothing was compared");
  });
});

import { describe, expect, it } from "vitest";
import { correctDrift } from "../../../lib/drift/correct-drift.js";
import { campaignOf } from "../../support/campaign.js";
import { expectClose } from "../../support/expect-close.js";
import { channels, heightTest, offsets, twoLayers } from "./support.js";

describe("correctDrift with a height test", () => {
  const chainage_m = Array.from({ length: 20 }, (_, i) => 2 * i);
  const values = channels.map((_, c) => chainage_m.map(() => 500 + offsets[c]!));
  const campaign = campaignOf({ passes: [{ channels, chainage_m, values }] });
  const result = correctDrift(campaign, { heightTest: heightTest(twoLayers, 4) });

  it("takes the zero level off where it is known to differ from 0", () => {
    const { zeroLevel: found, passes } = result.value;
    expect(found!.channels).toHaveLength(channels.length);
    for (const [c, { offset, error }] of found!.channels.entries()) {
      const taken = Math.abs(offset) > 2 * error ? offset : 0;
      expect(passes[0]!.values[c]![3]!).toBeCloseTo(500 + offsets[c]! - taken, 9);
      expectClose(passes[0]!.values[c]![3]!, 500, { absolute: 4 * error });
    }
    expect([...passes[0]!.corrected]).toEqual(new Array(20).fill(1));
  });

  it("hands the error of the level on with the drift's", () => {
    const { zeroLevel: found, passes } = result.value;
    const c = found!.channels.findIndex(({ offset, error }) => Math.abs(offset) > 2 * error);
    expect(passes[0]!.driftSd![c]![0]!).toBeCloseTo(found!.channels[c]!.error, 9);
  });

  it("says what was found", () => {
    expect(result.tables.map(({ id }) => id)).toContain("zero-level-2031-10");
    expect(result.summary).toContain("zero level");
  });

  it("names every fault of the test", () => {
    expect(() => correctDrift(campaign, { heightTest: [] })).toThrow("options.heightTest must be");
  });
});

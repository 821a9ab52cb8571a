import { describe, expect, it } from "vitest";
import { correctDrift } from "../../../lib/drift/correct-drift.js";
import { campaignStart_s } from "../../support/campaign.js";
import { expectClose } from "../../support/expect-close.js";
import { thereAndBack } from "../support.js";

describe("correctDrift without base checks", () => {
  it("takes the drift from readings at the same place, and says so", () => {
    const { value, cautions } = correctDrift(thereAndBack(2, (h) => 150 * h));
    const [drift] = value.drift;
    expect(drift).toMatchObject({ from: "crossings", checks: 0, reason: "" });
    expect(drift!.pairs).toBeGreaterThan(500);
    // The bar for base checks: 15 % of a drift that exceeds the noise.
    expectClose(drift!.perHour, 150, { relative: 0.15 });
    expect(cautions.map(({ text }) => text).join()).toContain("without base checks");
  });

  it("leaves both passes at one level", () => {
    const { value } = correctDrift(thereAndBack(3, (h) => 150 * h));
    const values = [...value.passes[0]!.values[0]!];
    const mean = (list: readonly number[]) => list.reduce((a, b) => a + b, 0) / list.length;
    const apart = mean(values.slice(900)) - mean(values.slice(0, 900));
    // Half the walk lies between the means: 75 ppm apart before.
    expect(Math.abs(apart)).toBeLessThan(5);
  });

  it("bridges two lone checks with them, unless asked not to", () => {
    const campaign = thereAndBack(4, (h) => 150 * h);
    const baseChecks = [0, 1].flatMap((hour) =>
      Array.from({ length: 6 }, (_, k) => ({
        file: "base-checks.csv",
        row: 6 * hour + k + 2,
        spot: "B1",
        time_s: campaignStart_s + 3600 * hour + 2 * k,
        values: { q_4800_hcp: 500 + 150 * hour + 3 * (k % 3) },
      })),
    );
    const both = correctDrift({ ...campaign, baseChecks }).value.drift[0]!;
    expect(both.from).toBe("base checks and crossings");
    expectClose(both.perHour, 150, { relative: 0.1 });
    const never = correctDrift({ ...campaign, baseChecks }, { crossings: "never" }).value.drift[0]!;
    expect(never).toMatchObject({ from: "base checks", pairs: 0 });
  });
});

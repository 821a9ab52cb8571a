import { describe, expect, it } from "vitest";
import { median } from "../../../lib/numerics/statistics/robust.js";
import type { Pass } from "../../../lib/survey/survey.js";
import { snapshot } from "../../support/campaign.js";
import { expectClose } from "../../support/expect-close.js";
import { cautionsOf, misplaced, none, placed, told } from "../support/misplaced.js";

/** The pass walked the other way. */
function turned(pass: Pass): Pass {
  const back = (values: Float64Array) => values.toReversed();
  return {
    ...pass,
    easting_m: back(pass.easting_m),
    northing_m: back(pass.northing_m),
    chainage_m: back(pass.chainage_m),
    values: pass.values.map(back),
  };
}

describe("coregister", () => {
  const apart = misplaced({ seed: 9710, ahead_m: [none, () => 2] });

  it("keeps what was read and writes into nothing", () => {
    const campaign = misplaced({ seed: 9700, ahead_m: [none, () => 2] });
    const before = snapshot(campaign);
    const { passes } = placed(campaign).campaign;
    expect(snapshot(campaign)).toBe(before);
    for (const [p, pass] of passes.entries())
      expect(pass.values).toEqual(campaign.passes[p]!.values);
  });

  it("moves both to their middle, on the map too, and makes their places less sure", () => {
    const [left, moved] = [placed(apart, { passShift_m: "ignore" }), placed(apart)];
    const { coregistration } = moved.placement;
    expect(coregistration.from).toBe("readings");
    const { mean_m, sd_m } = told(moved);
    expectClose(coregistration.moved_m[0]!, mean_m / 2, { absolute: 1e-6 });
    expectClose(coregistration.moved_m[1]!, -mean_m / 2, { absolute: 1e-6 });
    for (const p of [0, 1]) {
      const [a, b] = [left.campaign.passes[p]!, moved.campaign.passes[p]!];
      expectClose(b.chainage_m[100]! - a.chainage_m[100]!, coregistration.moved_m[p]!, {
        absolute: 1e-6,
      });
      expectClose(b.easting_m[100]! - 500_000, b.chainage_m[100]!, { absolute: 1e-6 });
      // Half of the shift's uncertainty falls to each of the two.
      const expected = Math.hypot(a.positionSd_m![100]!, sd_m / 2);
      expectClose(b.positionSd_m![100]!, expected, { absolute: 1e-9 });
    }
  });

  it("only says so with check, and looks at nothing with ignore", () => {
    const checked = placed(apart, { passShift_m: "check" });
    expect(checked.placement.coregistration.moved_m).toEqual([0, 0]);
    expect(cautionsOf(checked)).toContain('passShift_m: "correct" would bring them');
    const ignored = placed(apart, { passShift_m: "ignore" });
    expect(ignored.placement.coregistration.pairs).toEqual([]);
    expect(cautionsOf(ignored)).toBe("");
    expect(ignored.campaign.passes.map(({ chainage_m }) => chainage_m)).toEqual(
      checked.campaign.passes.map(({ chainage_m }) => chainage_m),
    );
  });

  it("takes a misplacement that is given", () => {
    const given = placed(apart, { passShift_m: { "walk-2.csv": 2 } });
    const left = placed(apart, { passShift_m: "ignore" });
    expect(given.placement.coregistration.moved_m).toEqual([0, -2]);
    expect(given.campaign.passes[0]!.chainage_m).toEqual(left.campaign.passes[0]!.chainage_m);
    expectClose(
      given.campaign.passes[1]!.chainage_m[50]! - left.campaign.passes[1]!.chainage_m[50]!,
      -2,
      {
        absolute: 1e-9,
      },
    );
    expect(cautionsOf(given)).toContain("as given, by up to 2.0 m");
  });

  it("sets three passes right against each other by all their pairs", () => {
    const shifts = [0, 2.4, -1.2];
    const campaign = misplaced({
      seed: 9720,
      ahead_m: shifts.map((shift) => () => shift),
      orientations: ["HCP", "VCP", "HCP"],
    });
    const { placement } = placed(campaign);
    expect(placement.coregistration.pairs).toHaveLength(3);
    const mean = 0.4;
    for (const [p, shift] of shifts.entries()) {
      expectClose(placement.coregistration.moved_m[p]!, mean - shift, { absolute: 0.4 });
    }
    const sum = placement.coregistration.moved_m.reduce((total, one) => total + one, 0);
    expectClose(sum, 0, { absolute: 1e-6 });
  });

  it("does to two walks in opposite directions what taking out their time lag does", () => {
    // Readings late by 1.5 s at 1.2 m in 1.2 s: either walk's positions lie 1.5 m on in its own
    // way.
    const campaign = misplaced({ seed: 9730, ahead_m: [() => 1.5, () => -1.5] });
    const walked = { ...campaign, passes: [campaign.passes[0]!, turned(campaign.passes[1]!)] };
    const [byLag, byMiddle] = [placed(walked, { timeLag_s: "estimate" }), placed(walked)];
    expect(byLag.placement.lagFrom).toBe("passes");
    expect(byLag.placement.coregistration.moved_m).toEqual([0, 0]);
    expectClose(byMiddle.placement.coregistration.moved_m[0]!, -1.5, { absolute: 0.3 });
    expect(cautionsOf(byMiddle)).toContain("a time lag looks the same");
    expect(cautionsOf(byLag)).not.toContain("a time lag looks the same");
    for (const p of [0, 1]) {
      const [a, b] = [byLag, byMiddle].map(({ campaign: { passes } }) => passes[p]!.chainage_m);
      expectClose(median(a!.map((x, i) => x - b![i]!)), 0, { absolute: 0.3 });
    }
  });
});

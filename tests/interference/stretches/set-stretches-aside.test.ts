import { describe, expect, it } from "vitest";
import { maskInterference } from "../../../lib/interference/mask-interference.js";
import { CAUSE_NAMES } from "../../../lib/survey/account/reading-status.js";
import { disturbed } from "../../support/disturbed.js";

describe("the readings that maskInterference sets aside", () => {
  const metal = [{ at_m: 80, size: 12 }];
  const campaign = disturbed({ seed: 6, metal, orientations: ["HCP", "VCP"], length_m: 200 });

  it("flags all channels of all passes within the stretch, and accounts for them", () => {
    const { value, accounting } = maskInterference(campaign);
    const [stretch] = value.interference;
    let flagged = 0;
    for (const pass of value.passes) {
      for (const [i, x] of pass.chainage_m.entries()) {
        const inside = x >= stretch!.from_m && x <= stretch!.to_m;
        for (const flags of pass.setAside) expect(flags[i]).toBe(inside ? 1 : 0);
        if (inside) flagged++;
      }
    }
    expect(stretch!.readings).toBe(flagged);
    const cause = CAUSE_NAMES[value.causes[0]!.kind];
    expect(accounting!.setAside).toEqual([{ cause, readings: flagged }]);
  });

  it("does not overwrite why a reading was set aside before", () => {
    const causes = [{ kind: "noise", text: "Doubted by the walker" }] as const;
    const passes = campaign.passes.map((pass) => ({
      ...pass,
      setAside: pass.setAside.map((flags) => {
        return flags.map((_, i) => (Math.abs(pass.chainage_m[i]! - 81.5) < 0.7 ? 1 : 0));
      }),
    }));
    const { value } = maskInterference({ ...campaign, passes, causes });
    expect(value.causes[0]).toEqual(causes[0]);
    expect(value.causes[1]!.kind).toBe("detected");
    const { from_m, to_m } = value.interference[0]!;
    const [pass] = value.passes;
    const flags = Array.from(pass!.setAside[0]!).filter((_, i) => {
      return pass!.chainage_m[i]! >= from_m && pass!.chainage_m[i]! <= to_m;
    });
    expect(flags.filter((flag) => flag === 1).length).toBeGreaterThan(0);
    expect(flags.filter((flag) => flag === 2).length).toBeGreaterThan(0);
    expect(flags).not.toContain(0);
  });
});

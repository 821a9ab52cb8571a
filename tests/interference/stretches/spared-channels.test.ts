import { describe, expect, it } from "vitest";
import { maskInterference } from "../../../lib/interference/mask-interference.js";
import { fateOf } from "../../../lib/survey/account/reading-status.js";
import type { Campaign } from "../../../lib/survey/survey.js";
import { disturbed } from "../../support/disturbed.js";

const HARMED = /_(10000|25000|60000)_/;

/** Something at 150 m that only the three higher frequencies show: up, down and up again. */
function highOnly(): Campaign {
  const campaign = disturbed({ seed: 8, length_m: 300, orientations: ["HCP", "VCP"] });
  const passes = campaign.passes.map((pass) => ({
    ...pass,
    values: pass.instrument.channels.map(({ field, kind }, c) => {
      if (!HARMED.test(field)) return pass.values[c]!;
      const size = kind === "inphase" ? 600 : -350;
      return pass.values[c]!.map((value, i) => {
        const away = (pass.chainage_m[i]! - 150) / 1.2;
        return value + size * (1 - away * away) * Math.exp((-away * away) / 2);
      });
    }),
  }));
  return { ...campaign, passes };
}

describe("maskInterference channel by channel", () => {
  const campaign = highOnly();
  const { value, accounting, tables } = maskInterference(campaign, { perChannel: true });
  const [stretch] = value.interference;

  it("leaves channels in use that show nothing, and none that are harmed", () => {
    expect(value.interference).toHaveLength(1);
    expect(stretch!.spared!.length).toBeGreaterThanOrEqual(4);
    for (const field of stretch!.spared!) expect(field).not.toMatch(HARMED);
    for (const pass of value.passes) {
      const at = pass.chainage_m.findIndex((x) => x > 150);
      for (const [c, { field }] of pass.instrument.channels.entries()) {
        expect(pass.setAside[c]![at] === 0).toBe(stretch!.spared!.includes(field));
      }
    }
  });

  it("keeps one row a reading in the account, with the channels that are set aside", () => {
    expect(stretch!.partly).toBeGreaterThan(10);
    const at = value.passes[0]!.chainage_m.findIndex((x) => x > 150);
    const fate = fateOf(value, 0, at);
    expect(fate.fate).toBe("kept");
    expect(fate.channels.length).toBeGreaterThanOrEqual(6);
    const aside = accounting!.setAside.reduce((sum, { readings }) => sum + readings, 0);
    expect(aside).toBe(stretch!.readings);
    expect(accounting!.kept + aside).toBe(accounting!.readings);
    expect(tables[0]!.columns.map(({ label }) => label)).toContain("Left in use");
  });

  it("sets all channels aside unless asked", () => {
    const [whole] = maskInterference(campaign).value.interference;
    expect(whole!.spared).toBeUndefined();
    expect(whole!.readings).toBe(stretch!.readings + stretch!.partly!);
  });

  it("spares nothing where all channels show the object", () => {
    const metal = [{ at_m: 150, size: 25 }];
    const strong = disturbed({ seed: 8, metal, length_m: 300, orientations: ["HCP"] });
    const [found] = maskInterference(strong, { perChannel: true }).value.interference;
    expect((found!.spared ?? []).length).toBeLessThanOrEqual(2);
  });

  it("refuses a word for yes", () => {
    expect(() => maskInterference(campaign, { perChannel: "yes" as never })).toThrow(
      "options.perChannel must be true or false",
    );
  });
});

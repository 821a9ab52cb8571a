import { describe, expect, it } from "vitest";
import { closes } from "../../../lib/step/account.js";
import { expectClose } from "../../support/expect-close.js";
import type { WalkSketch } from "../../survey/support/walked-survey.js";
import { open } from "../support/opened.js";

describe("averageStandstills", () => {
  it("averages what was read while standing, and accounts for it", async () => {
    const sketch: WalkSketch = {
      stand: { row: 200, readings: 30 },
      seed: 10,
      jitter_m: 0.05,
      noise: 1,
    };
    const { value, accounting, cautions } = await open(sketch);
    expect(closes(accounting!)).toBe(true);
    const aside = accounting!.setAside.find(({ cause }) => cause.startsWith("averaged"))!;
    // 30 s of standing at one reading a second become two readings; the edges may be taken as
    // walking.
    expect(aside.readings).toBeGreaterThanOrEqual(22);
    expect(aside.readings).toBeLessThanOrEqual(30);
    expect(accounting!.corrected).toBe(2);
    expect(cautions.some(({ text }) => text.includes("standing still became 2 by averaging"))).toBe(
      true,
    );
    const kept = await open(sketch, { standstill: "keep" });
    expect(kept.accounting!.setAside).toEqual([]);
    const pass = value.campaigns[0]!.passes[0]!;
    const used = [...pass.corrected.keys()].filter((i) => pass.corrected[i] === 1);
    // The mean of 10 to 20 readings of noise 1 about a truth of 60 and a few (see the sketch's
    // ground).
    const raw = kept.value.campaigns[0]!.passes[0]!.values[0]!;
    const mean = raw.slice(205, 225).reduce((sum, v) => sum + v, 0) / 20;
    for (const i of used) expectClose(pass.values[0]![i]!, mean, { absolute: 1.5 });
  });
});

import { describe, expect, it } from "vitest";
import { maskInterference } from "../../../lib/interference/mask-interference.js";
import { disturbed } from "../../support/disturbed.js";

describe("detectMetal", () => {
  it("asks for swings of both signs where one channel is all there is", () => {
    const metal = [{ at_m: 140, size: 40 }];
    const campaign = disturbed({ seed: 8, conductors_m: [60], metal, length_m: 200 });
    const passes = campaign.passes.map((pass) => ({
      ...pass,
      instrument: { ...pass.instrument, channels: pass.instrument.channels.slice(4, 5) },
      values: pass.values.slice(4, 5),
      setAside: pass.setAside.slice(4, 5),
    }));
    const { value, cautions } = maskInterference({ ...campaign, passes });
    expect(value.interference.some(({ from_m, to_m }) => from_m <= 60 && to_m >= 60)).toBe(false);
    expect(cautions.map(({ text }) => text).join()).toContain("too few to tell metal from ground");
  });
});

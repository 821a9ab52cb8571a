import { describe, expect, it } from "vitest";
import { maskInterference } from "../../../lib/interference/mask-interference.js";
import { disturbed } from "../../support/disturbed.js";

const ground = {
  length_m: 600,
  orientations: ["HCP", "VCP"],
  edges_m: [110, 420],
  conductors_m: [60, 480],
} as const;

describe("maskInterference beside an object along the line", () => {
  it("takes a noted rail for noted and seen", () => {
    const rail = { from_m: 200, to_m: 280, size: 4 };
    const notes = [{ object: "guard rail", from_m: 200, to_m: 280 }];
    const sketch = { seed: 41, ...ground, rails: [rail], notes };
    const { interference } = maskInterference(disturbed(sketch)).value;
    const stretch = interference.find(({ object }) => object === "guard rail");
    expect(stretch).toMatchObject({ cause: "both" });
  });

  it("only says it, or does not look, when asked", () => {
    const campaign = disturbed({
      seed: 46,
      ...ground,
      rails: [{ from_m: 200, to_m: 320, size: 4 }],
    });
    const [said, off] = (["say", "off"] as const).map((alongLine) =>
      maskInterference(campaign, { alongLine }),
    );
    expect(said!.value.alongLine).toHaveLength(1);
    expect(said!.value.interference.some(({ along }) => along)).toBe(false);
    expect(said!.cautions.map(({ text }) => text).join()).toContain("still in use");
    expect(off!.value.alongLine).toEqual([]);
  });

  it("says where the channels are too few to tell", () => {
    const campaign = disturbed({ seed: 3, length_m: 300 });
    const passes = campaign.passes.map((pass) => ({
      ...pass,
      instrument: { ...pass.instrument, channels: pass.instrument.channels.slice(4, 6) },
      values: pass.values.slice(4, 6),
      setAside: pass.setAside.slice(4, 6),
    }));
    const few = maskInterference({ ...campaign, passes }).cautions.map(({ text }) => text);
    const many = maskInterference(campaign).cautions.map(({ text }) => text);
    expect(few.join()).toContain("cannot tell an object along the line");
    expect(many.join()).not.toContain("cannot tell an object along the line");
  });

  it("says that one orientation tells it less surely than two", () => {
    const cautions = (["HCP", "VCP"] as const).map((_, k, both) => {
      const sketch = { seed: 3, length_m: 300, orientations: both.slice(0, k + 1) };
      return maskInterference(disturbed(sketch)).cautions.map(({ text }) => text);
    });
    expect(cautions[0]!.join()).toContain("in one orientation");
    expect(cautions[1]!.join()).not.toContain("in one orientation");
  });
});

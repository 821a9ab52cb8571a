import { describe, expect, it } from "vitest";
import { creepRatio, LEAST_CREEP_RATIO } from "../../lib/earth/creep-ratio.js";

describe("creepRatio", () => {
  it("meets Bligh just and misses Lane for 60 m of fine sand under 4 m of head", () => {
    // Methods, section 7 (Lane 1935; Bligh remembered).
    const ratio = creepRatio({ vertical_m: 0, horizontal_m: 60, head_m: 4 });
    expect(ratio).toEqual({ lane: 5, bligh: 15 });
    expect(ratio.bligh).toBeGreaterThanOrEqual(LEAST_CREEP_RATIO["fine sand"].bligh);
    expect(ratio.lane).toBeLessThan(LEAST_CREEP_RATIO["fine sand"].lane);
  });

  it("has no value without a head", () => {
    const none = creepRatio({ vertical_m: 1, horizontal_m: 2, head_m: 0 });
    expect([none.lane, none.bligh]).toEqual([Number.NaN, Number.NaN]);
  });
});

import { describe, expect, it } from "vitest";
import { crossoversOf } from "../../../lib/drift/checks/crossovers.js";
import { thereAndBack } from "../support.js";

const options = { crossingWithin_m: 1, crossingApart_s: 600 };

describe("crossoversOf over seeded walks", () => {
  it("states errors that hold the truth two times out of three", () => {
    const all = Array.from({ length: 20 }, (_, k) => {
      return crossoversOf(
        thereAndBack(k, () => 0),
        options,
      ).get("q_4800_hcp")!;
    }).flat();
    const held = all.filter(({ rise, error }) => Math.abs(rise) < error).length / all.length;
    expect(held).toBeGreaterThan(0.6);
    expect(held).toBeLessThan(0.95);
  });
});

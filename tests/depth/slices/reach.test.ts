import { describe, expect, it } from "vitest";
import { reach_m } from "../../../lib/depth/slices/reach.js";
import { cumulativeResponse } from "../../../lib/earth/half-space.js";
import { expectClose } from "../../support/expect-close.js";

const pair = (orientation: "HCP" | "VCP", separation_m: number, height_m = 0) => ({
  orientation,
  separation_m,
  height_m,
});

describe("the depth that coils reach", () => {
  it("is where a quarter of the response of coils on the ground lies below", () => {
    // 1 / sqrt(4z² + 1) = 1/4 and sqrt(4z² + 1) − 2z = 1/4 (McNeill 1980), in separations.
    expectClose(reach_m([pair("HCP", 1)]), Math.sqrt(15) / 2, { absolute: 1e-6 });
    expectClose(reach_m([pair("VCP", 1)]), 15 / 16, { absolute: 1e-6 });
  });

  it("counts from the ground where coils are carried, and takes the pair that sees deepest", () => {
    const depth_m = reach_m([pair("VCP", 1.8, 0.9), pair("HCP", 1.8, 0.9)]);
    const share = (d: number) => cumulativeResponse("HCP", (d + 0.9) / 1.8);
    expectClose(share(depth_m), 0.25 * share(0), { absolute: 1e-9 });
  });

  it("grows with the separation, and is 0 without coils", () => {
    expect(reach_m([pair("HCP", 4)])).toBeGreaterThan(reach_m([pair("HCP", 2)]));
    expect(reach_m([])).toBe(0);
  });
});

import { describe, expect, it } from "vitest";
import { nominalDepth } from "../../../../lib/depth/views/nominal/nominal-depth.js";
import { cumulativeResponse } from "../../../../lib/earth/half-space.js";
import { expectClose } from "../../../support/expect-close.js";

describe("nominalDepth", () => {
  it("is the published depth of half the response on the ground", () => {
    // McNeill 1980 (methods, section 2): 0.866 s and 0.375 s; 3 digits.
    const at = (orientation: "HCP" | "VCP") =>
      nominalDepth({ orientation, separation_m: 2, height_m: 0 });
    expectClose(at("HCP"), 2 * 0.866, { absolute: 1e-3 });
    expectClose(at("VCP"), 2 * 0.375, { absolute: 1e-12 });
  });

  it("halves what is left of the response below the coils at any height", () => {
    for (const orientation of ["HCP", "VCP", "PRP"] as const) {
      for (const height_m of [0, 0.3, 1.5]) {
        const depth = nominalDepth({ orientation, separation_m: 1.8, height_m });
        const left = cumulativeResponse(orientation, (height_m + depth) / 1.8);
        // Closed forms with a cancellation of one digit at the most.
        expectClose(left, cumulativeResponse(orientation, height_m / 1.8) / 2, { relative: 1e-12 });
      }
    }
  });

  it("refuses what is no coil pair", () => {
    const bad = { orientation: "HCP", separation_m: Number.NaN, height_m: 0 } as const;
    expect(() => nominalDepth(bad)).toThrow("nominalDepth: coils must be a separation above 0");
  });
});

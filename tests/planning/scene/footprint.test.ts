import { describe, expect, it } from "vitest";
import { acrossTheLine, footprint } from "../../../lib/planning/scene/footprint.js";
import { expectClose } from "../../support/expect-close.js";

const coils = (orientation: "HCP" | "VCP" | "PRP", height_m = 0) => ({
  orientation,
  separation_m: 1,
  height_m,
});

/** The kernel added up along the line, by the trapezoidal rule after x = a sinh t. */
function wholeLine(orientation: "HCP" | "VCP" | "PRP", z: number): number {
  const scale = 0.5 * Math.hypot(0.5, z);
  let sum = 0;
  for (let i = -200; i <= 200; i++) {
    const t = i * 0.035;
    sum +=
      acrossTheLine(coils(orientation), scale * Math.sinh(t), z) * scale * Math.cosh(t) * 0.035;
  }
  return sum;
}

describe("the footprint", () => {
  it("adds up to the relative response by depth", () => {
    // McNeill 1980, Technical Note 6: 4z/(4z² + 1)^(3/2) and 2 − 4z/sqrt(4z² + 1), z in
    // separations; for PRP the derivative of cumulativeResponse, 2/(4z² + 1)^(3/2). The factor π
    // comes from the fields' common factor; the kernel reaches 7 e-foldings out: 1e-4 of it is left
    // outside.
    for (const z of [0.2, 0.5, 1, 2]) {
      const q = 4 * z * z + 1;
      expectClose(wholeLine("HCP", z), (Math.PI * 4 * z) / q ** 1.5, { relative: 2e-4 });
      const vcp = 2 - (4 * z) / Math.sqrt(q);
      expectClose(wholeLine("VCP", z), Math.PI * vcp, { relative: 2e-4 });
      expectClose(Math.abs(wholeLine("PRP", z)), (Math.PI * 2) / q ** 1.5, { relative: 2e-4 });
    }
  });

  it("is half on either side of the coils' middle where both coils are alike", () => {
    for (const orientation of ["HCP", "VCP"] as const) {
      const below = footprint(coils(orientation, 0.4), 0.8);
      expectClose(below(0), 0.5, { absolute: 1e-9 });
      for (const x of [0.3, 1, 5]) expectClose(below(x) + below(-x), 1, { absolute: 1e-9 });
      expect(below(-1e4)).toBe(0);
      expect(below(1e4)).toBe(1);
    }
  });

  it("widens with depth and with height", () => {
    const width = (depth_m: number, height_m: number) => {
      const below = footprint(coils("HCP", height_m), depth_m);
      return below(1.5) - below(-1.5);
    };
    expect(width(2, 0)).toBeLessThan(width(1, 0) - 0.05);
    expect(width(1, 1)).toBeLessThan(width(1, 0) - 0.05);
  });
});

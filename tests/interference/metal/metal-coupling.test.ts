import { describe, expect, it } from "vitest";
import { metalCoupling } from "../../../lib/interference/metal/metal-coupling.js";

const coils = (orientation: "HCP" | "VCP" | "PRP") => ({ orientation, separation_m: 1.8 });
const at = (along_m: number, aside_m = 0) => ({ along_m, aside_m, below_m: 1.1 });

describe("metalCoupling", () => {
  // Fields of two dipoles written out by hand for a point below the middle of the coils:
  // r² = s²/4 + z²; VCP 1/r⁶; HCP [(3z² − r²)² − 9 z² s²/4]/r¹⁰.
  const [s, z] = [1.8, 1.1];
  const square = (s * s) / 4 + z * z;

  it("is the product of two dipoles' fields below the middle", () => {
    expect(metalCoupling(coils("VCP"), at(0))).toBeCloseTo(1 / square ** 3, 12);
    const upright = ((3 * z * z - square) ** 2 - (9 * z * z * s * s) / 4) / square ** 5;
    expect(metalCoupling(coils("HCP"), at(0))).toBeCloseTo(upright, 12);
  });

  it("is alike before and behind where both coils stand alike", () => {
    for (const orientation of ["HCP", "VCP"] as const) {
      const [before, behind] = [at(-1.3, 0.4), at(1.3, 0.4)].map((place) =>
        metalCoupling(coils(orientation), place),
      );
      expect(before).toBeCloseTo(behind!, 12);
    }
  });

  it("is that of an upright and a lying coil too", () => {
    // Sender upright, receiver along the line: 1.5 s z (3 z² − 0.75 s²)/r¹⁰.
    const mixed = (1.5 * s * z * (3 * z * z - 0.75 * s * s)) / square ** 5;
    expect(metalCoupling(coils("PRP"), at(0))).toBeCloseTo(mixed, 12);
  });

  it("falls by the sixth power of a great distance", () => {
    for (const orientation of ["HCP", "VCP"] as const) {
      const [near, far] = [50, 100].map((along_m) =>
        metalCoupling(coils(orientation), at(along_m)),
      );
      // The coils and the depth are a fiftieth of the distance: their squares leave about 1 %.
      expect(near! / far! / 64).toBeGreaterThan(0.98);
      expect(near! / far! / 64).toBeLessThan(1.02);
    }
  });
});

import { describe, it } from "vitest";
import { bankSection } from "../../../lib/earth/embankment/bank-section.js";
import { chargeShares } from "../../../lib/earth/embankment/charge-field.js";
import { expectClose } from "../../support/expect-close.js";

describe("chargeShares", () => {
  const shape = {
    crestWidth_m: 4,
    height_m: 3,
    watersideSlope: 2.5,
    landsideSlope: 1.5,
    offset_m: 0.6,
  };
  const depths = [0, 0.2, 1, 2.9, 3, 3.05, 4, 8];
  const section = bankSection(shape, depths, { height_m: 0.9, nearest_m: 0.01 });

  it.each([0.03, 0.3, 1.5])("is the same with transmitter and receiver changed, k = %f", (k) => {
    const [one, other] = chargeShares(section, [
      { axes: ["upright", "along"], height_m: 0.9 },
      { axes: ["along", "upright"], height_m: 0.9 },
    ])(k);
    // Green's identity makes ∫ φ₁ ∂φ₂/∂z one with ∫ φ₂ ∂φ₁/∂z only together with the slopes' part:
    // all of the potentials, on slopes, levels and base, stand against each other here.
    const largest = Math.max(...one!.map(Math.abs));
    for (const [d, share] of one!.entries()) {
      expectClose(share, other![d]!, { absolute: 1e-3 * largest });
    }
  });
});

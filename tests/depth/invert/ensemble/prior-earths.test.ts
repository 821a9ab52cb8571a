import { describe, expect, it } from "vitest";
import { MOST_LAYERS } from "../../../../lib/depth/invert/ensemble/earth-ensemble.js";
import { CLASS_SHARES, priorEarths } from "../../../../lib/depth/invert/ensemble/prior-earths.js";
import { seededRandom } from "../../../../lib/numerics/random.js";
import { expectClose } from "../../../support/expect-close.js";

const earths = priorEarths(4000, seededRandom(3));

describe("priorEarths", () => {
  it("gives layers of positive thickness and resistivities of 1 to 4000 ohm-m", () => {
    for (let k = 0; k < earths.count; k++) {
      const layers = earths.layers[k]!;
      expect(layers >= 1 && layers <= MOST_LAYERS).toBe(true);
      for (let j = 0; j < layers; j++) {
        const at = k * MOST_LAYERS + j;
        if (j + 1 < layers) expect(earths.thickness_m[at]!).toBeGreaterThan(0.04);
        const ohm_m = Math.exp(-earths.lnConductivity[at]!);
        expect(ohm_m > 0.99 && ohm_m < 4001).toBe(true);
      }
    }
  });

  it("draws each class by its share", () => {
    expectClose(
      CLASS_SHARES.reduce((sum, share) => sum + share, 0),
      1,
      { absolute: 1e-12 },
    );
    for (const [kind, share] of CLASS_SHARES.entries()) {
      const drawn = earths.kind.filter((one) => one === kind).length / earths.count;
      // Four binomial deviations of 4000 draws.
      expectClose(drawn, share, { absolute: 4 * Math.sqrt((share * (1 - share)) / earths.count) });
    }
  });

  it("holds contrasts of over 30 between neighbouring layers, and even ground", () => {
    const contrasts = Array.from({ length: earths.count }, (_, k) => {
      const at = k * MOST_LAYERS;
      const ln = earths.lnConductivity.subarray(at, at + earths.layers[k]!);
      return Math.max(0, ...Array.from(ln.subarray(1), (value, j) => Math.abs(value - ln[j]!)));
    });
    const share = (test: (contrast: number) => boolean) =>
      contrasts.filter(test).length / contrasts.length;
    expect(share((contrast) => contrast > Math.log(30))).toBeGreaterThan(0.03);
    expect(share((contrast) => contrast < Math.log(1.5))).toBeGreaterThan(0.01);
  });

  it("gives the same members for the same seed", () => {
    const again = priorEarths(50, seededRandom(3));
    expect(again.lnConductivity).toEqual(earths.lnConductivity.slice(0, 50 * MOST_LAYERS));
  });
});

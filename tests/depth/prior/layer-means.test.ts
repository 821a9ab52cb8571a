import { describe, it } from "vitest";
import { eachShare, meanBetween, writeLayerMeans } from "../../../lib/depth/prior/layer-means.js";
import { expectClose } from "../../support/expect-close.js";

const top_m = Float64Array.of(0, 0.5, 1, 3);
const ground = { lnConductivity: [-2, -5, -4], thickness_m: [0.75, 0.5] };

describe("writeLayerMeans", () => {
  it("averages ln conductivity over each layer of the grid by thickness", () => {
    const out = new Float32Array(8);
    writeLayerMeans(ground, { top_m, out, at: 4 });
    // 0.5–1: half of −2, half of −5; 1–3: 0.25 of −5, 1.75 of −4; below: −4.
    const expected = [-2, -3.5, (0.25 * -5 + 1.75 * -4) / 2, -4];
    for (const [j, value] of expected.entries()) {
      expectClose(out[4 + j]!, value, { absolute: 1e-6 });
    }
  });

  it("writes even ground as it is", () => {
    const out = new Float32Array(4);
    writeLayerMeans({ lnConductivity: [-3.3], thickness_m: [] }, { top_m, out, at: 0 });
    for (const value of out) expectClose(value, -3.3, { absolute: 1e-6 });
  });
});

describe("meanBetween", () => {
  it("is what the grid gives between its depths", () => {
    expectClose(meanBetween(ground, 0.5, 1), -3.5, { absolute: 1e-12 });
    expectClose(meanBetween(ground, 1, 3), (0.25 * -5 + 1.75 * -4) / 2, { absolute: 1e-12 });
  });

  it("reads only the layers there are in a longer row", () => {
    const longer = { lnConductivity: [-2, -5, 0, 0], thickness_m: [0.75, 0.5, 0, 0], layers: 2 };
    expectClose(meanBetween(longer, 0.75, 9), -5, { absolute: 1e-12 });
  });

  it("gives shares that add up to one", () => {
    let sum = 0;
    eachShare(ground, 0.3, 2, (_, share) => {
      sum += share;
    });
    expectClose(sum, 1, { absolute: 1e-12 });
  });
});

import { describe, it } from "vitest";
import { columnOf } from "../../../../lib/depth/invert/ensemble/column-of.js";
import { ensembleOf } from "../../../../lib/depth/invert/ensemble/earth-ensemble.js";
import { expectClose } from "../../../support/expect-close.js";

const ensemble = ensembleOf(
  [
    { lnConductivity: [-3], thickness_m: [], kind: 0 },
    { lnConductivity: [-2, -5, -4], thickness_m: [0.75, 0.5], kind: 0 },
  ],
  { sd: Float64Array.of(0.2, 0.2), logWeight: Float64Array.of(-0.7, -0.7) },
);
const top_m = Float64Array.of(0, 0.5, 1, 3);

describe("columnOf", () => {
  it("averages ln conductivity over each layer of the grid by thickness", () => {
    const out = new Float32Array(8);
    const lnConductivity = Float64Array.of(-2, -5, -4);
    columnOf(ensemble, 1, { lnConductivity, top_m, out, at: 4 });
    // 0.5–1: half of −2, half of −5; 1–3: 0.25 of −5, 1.75 of −4; below: −4.
    const expected = [-2, -3.5, (0.25 * -5 + 1.75 * -4) / 2, -4];
    for (const [j, value] of expected.entries()) {
      expectClose(out[4 + j]!, value, { absolute: 1e-6 });
    }
  });

  it("writes even ground as it is, to where it is told", () => {
    const out = new Float32Array(4);
    columnOf(ensemble, 0, { lnConductivity: Float64Array.of(-3.3), top_m, out, at: 0 });
    for (const value of out) expectClose(value, -3.3, { absolute: 1e-6 });
  });
});

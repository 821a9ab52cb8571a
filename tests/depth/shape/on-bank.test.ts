import { describe, expect, it } from "vitest";
import { stationForward } from "../../../lib/depth/data/station-forward.js";
import { layerParts, partsBelow } from "../../../lib/depth/shape/layer-parts.js";
import { onBank } from "../../../lib/depth/shape/on-bank.js";
import { embankmentCoilSensitivities } from "../../../lib/earth/embankment/embankment-coil-sensitivity.js";
import { lowInductionQuadrature } from "../../../lib/earth/half-space.js";
import { expectClose } from "../../support/expect-close.js";

const SHAPE = {
  crestWidth_m: 4,
  height_m: 3.8,
  watersideSlope: 3,
  landsideSlope: 2.5,
  offset_m: 0,
};
const top_m = Float64Array.of(0, 0.5, 1, 2, 3.8);
const ohm_m = [120, 60, 30, 45, 20];
const ln = Float64Array.from(ohm_m, (value) => -Math.log(value));
const HEIGHT_M = 0.9;
const channel = (frequency_Hz: number, orientation: "HCP" | "VCP") => ({
  ...({ field: "q", kind: "quadrature", unit: "ppm" } as const),
  ...{ frequency_Hz, orientation, separation_m: 1.8 },
});

function onShape(frequency_Hz: number) {
  const channels = (["HCP", "VCP"] as const).map((one) => channel(frequency_Hz, one));
  const pairs = channels.map((one) => ({ ...one, height_m: HEIGHT_M }));
  const level = stationForward(channels, top_m, HEIGHT_M);
  const forward = onBank(level, layerParts(partsBelow(SHAPE, pairs), top_m));
  const evaluate = (model: Float64Array) => {
    const response = new Float64Array(2);
    const jacobian = new Float64Array(2 * top_m.length);
    forward.evaluate(model, response, jacobian);
    return { response, jacobian };
  };
  return { channels, pairs, evaluate };
}

describe("the response of layers on a bank", () => {
  it("is Σ σ S_bank at low induction numbers", () => {
    const { channels, pairs, evaluate } = onShape(0.01);
    const { response } = evaluate(ln);
    const parts = embankmentCoilSensitivities(SHAPE, pairs, [...top_m]);
    for (const [c, { bank }] of parts.entries()) {
      const sigma = bank.reduce((sum, part, j) => sum + part / ohm_m[j]!, 0);
      // Straight lines between tabled depths.
      expectClose(response[c]!, lowInductionQuadrature(sigma, channels[c]!), { relative: 1e-3 });
    }
  });

  it("has the derivatives of its response", () => {
    const { evaluate } = onShape(10_000);
    const { response, jacobian } = evaluate(ln);
    const step = 1e-4;
    for (let j = 0; j < top_m.length; j++) {
      const [more, less] = [step, -step].map((by) =>
        evaluate(ln.map((value, i) => (i === j ? value + by : value))),
      );
      for (const c of [0, 1]) {
        const slope = (more!.response[c]! - less!.response[c]!) / (2 * step);
        // Central differences: the square of the step.
        expectClose(jacobian[c * top_m.length + j]!, slope, { absolute: 1e-6 * response[c]! });
      }
    }
  });

  it("is that of level ground where the parts are those of level ground", () => {
    const channels = [channel(25_000, "HCP")];
    const level = stationForward(channels, top_m, HEIGHT_M);
    const parts = layerParts(partsBelow(SHAPE, [{ ...channels[0]!, height_m: HEIGHT_M }]), top_m);
    const same = onBank(level, { ...parts, bank: parts.level });
    const out = [level, same].map((forward) => {
      const response = new Float64Array(1);
      const jacobian = new Float64Array(top_m.length);
      forward.evaluate(ln, response, jacobian);
      return { response, jacobian };
    });
    expect(out[1]).toEqual(out[0]);
  });
});

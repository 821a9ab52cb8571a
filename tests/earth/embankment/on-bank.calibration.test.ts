import { describe, expect, it } from "vitest";
import { embankmentCoilSensitivities } from "../../../lib/earth/embankment/embankment-coil-sensitivity.js";
import { layerParts, partsBelow } from "../../../lib/earth/embankment/layer-parts.js";
import { onBank } from "../../../lib/earth/embankment/on-bank.js";
import { lowInductionQuadrature } from "../../../lib/earth/half-space.js";
import { stationForward } from "../../../lib/earth/station-forward.js";
import full from "../../abroad/earth/full-induction.json" with { type: "json" };
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
  const forward = onBank(level, layerParts(partsBelow(SHAPE, pairs), top_m), channels);
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
    const { evaluate } = onShape(0.01);
    const { response, jacobian } = evaluate(ln);
    const step = 1e-4;
    for (let j = 0; j < top_m.length; j++) {
      const [more, less] = [step, -step].map((by) =>
        evaluate(ln.map((value, i) => (i === j ? value + by : value))),
      );
      for (const c of [0, 1]) {
        const slope = (more!.response[c]! - less!.response[c]!) / (2 * step);
        // Second derivatives are left out of what the derivatives add; at 0.01 Hz they are 1e-3.
        expectClose(jacobian[c * top_m.length + j]!, slope, { absolute: 1e-3 * response[c]! });
      }
    }
  });

  it("is that of level ground where the parts are those of level ground", () => {
    const channels = [channel(25_000, "HCP")];
    const level = stationForward(channels, top_m, HEIGHT_M);
    const parts = layerParts(partsBelow(SHAPE, [{ ...channels[0]!, height_m: HEIGHT_M }]), top_m);
    const same = onBank(level, { ...parts, bank: parts.level }, channels);
    const out = [level, same].map((forward) => {
      const response = new Float64Array(1);
      const jacobian = new Float64Array(top_m.length);
      forward.evaluate(ln, response, jacobian);
      return { response, jacobian };
    });
    expect(out[1]).toEqual(out[0]);
  });

  it("is that of full induction, in quadrature within 2 % on the way to the skin depth", () => {
    for (const { conductivity_S_per_m, frequency_Hz, responses } of full.cases) {
      const ground = Float64Array.from(conductivity_S_per_m, Math.log);
      const top_m = Float64Array.of(0, full.shape.height_m);
      for (const [p, pair] of full.pairs.entries()) {
        const coils = { ...pair, orientation: pair.orientation as "HCP" | "VCP", frequency_Hz };
        const channels = (["quadrature", "inphase"] as const).map((kind) => ({
          ...{ ...coils, kind, field: "", unit: "ppm" as const },
        }));
        const below = partsBelow(full.shape, [coils, coils]);
        const level = stationForward(channels, top_m, pair.height_m);
        const both = [level, onBank(level, layerParts(below, top_m), channels)].map((forward) => {
          const response = new Float64Array(2);
          forward.evaluate(ground, response, new Float64Array(4));
          return response;
        });
        const unit = lowInductionQuadrature(1, coils);
        for (const part of [0, 1] as const) {
          const expected = responses[p]![part]! * unit;
          // Of the reading on level ground. At 60 kHz over 10 ohm-m 3.7 m are a third of the skin
          // depth; in-phase is not modelled beyond its share.
          const share = part === 1 ? 0.11 : frequency_Hz > 2e4 ? 0.06 : 0.02;
          expectClose(both[1]![part]!, expected, { absolute: share * both[0]![part]! });
        }
      }
    }
  });
});

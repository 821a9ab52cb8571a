import { describe, it } from "vitest";
import { MOST_LAYERS } from "../../../../lib/depth/invert/ensemble/earth-ensemble.js";
import { memberResponses } from "../../../../lib/depth/invert/ensemble/member-responses.js";
import { priorEarths } from "../../../../lib/depth/invert/ensemble/prior-earths.js";
import { coilResponse } from "../../../../lib/earth/coil-response.js";
import { coilSensitivity } from "../../../../lib/earth/coil-sensitivity.js";
import { seededRandom } from "../../../../lib/numerics/random.js";
import { channelOf } from "../../../support/campaign.js";
import { expectClose } from "../../../support/expect-close.js";

const HEIGHT_M = 0.6;
const KNEE_PPM = 400;
const channels = [
  channelOf({ orientation: "HCP", frequency_Hz: 9000, separation_m: 1.8 }),
  channelOf({ orientation: "VCP", frequency_Hz: 40_000, separation_m: 1.8, kind: "inphase" }),
  channelOf({ orientation: "PRP", frequency_Hz: 9000, separation_m: 3.2 }),
];
const ensemble = priorEarths(60, seededRandom(11));
const responses = memberResponses(ensemble, {
  channels,
  height_m: HEIGHT_M,
  knee_ppm: Float64Array.from(channels, () => KNEE_PPM),
});

function earthOf(k: number) {
  const at = k * MOST_LAYERS;
  const layers = ensemble.layers[k]!;
  const ln = ensemble.lnConductivity.subarray(at, at + layers);
  return {
    conductivity_S_per_m: Array.from(ln, Math.exp),
    thickness_m: Array.from(ensemble.thickness_m.subarray(at, at + layers - 1)),
  };
}

describe("memberResponses", () => {
  it("are those of coilResponse on the reading scale, to a twentieth of the usual noise", () => {
    for (let k = 0; k < ensemble.count; k++) {
      for (const [d, channel] of channels.entries()) {
        const reading = coilResponse(earthOf(k), { ...channel, height_m: HEIGHT_M });
        const ppm = channel.kind === "inphase" ? reading.inphase_ppm : reading.quadrature_ppm;
        const value = responses.value[k * channels.length + d]!;
        expectClose(value, Math.asinh(ppm / KNEE_PPM), { absolute: 1.5e-3 });
      }
    }
  });

  it("have the derivatives of coilSensitivity, by layer and by height", () => {
    for (let k = 0; k < 20; k++) {
      for (const [d, channel] of channels.entries()) {
        const exact = coilSensitivity(earthOf(k), { ...channel, height_m: HEIGHT_M });
        const part = channel.kind === "inphase" ? "inphase_ppm" : "quadrature_ppm";
        const slope = 1 / Math.hypot(exact[part], KNEE_PPM);
        // Linear in a step of a member's spread, 0.2, so that 0.005 is 0.1 % of a reading.
        const near = { absolute: 5e-3, relative: 5e-3 };
        const byHeight = responses.byHeight[k * channels.length + d]!;
        expectClose(byHeight, slope * exact.byHeight_per_m[part], near);
        for (let j = 0; j < ensemble.layers[k]!; j++) {
          const byLog = responses.byLog[(k * MOST_LAYERS + j) * channels.length + d]!;
          expectClose(byLog, slope * exact.byLnConductivity[part][j]!, near);
        }
      }
    }
  });
});

import { describe, expect, it } from "vitest";
import {
  type MemberResponses,
  memberResponses,
  writeByLog,
} from "../../../lib/depth/posterior/member-responses.js";
import { ResponseStore } from "../../../lib/depth/posterior/response-store.js";
import { ensembleOf, MOST_LAYERS } from "../../../lib/depth/prior/earth-ensemble.js";
import { EarthSource } from "../../../lib/depth/prior/earth-source.js";
import { KIND_SHARES } from "../../../lib/depth/prior/kinds.js";
import { eachShare, meanBetween } from "../../../lib/depth/prior/layer-means.js";
import { triedEarths } from "../../../lib/depth/prior/tried-earths.js";
import { coilResponse } from "../../../lib/earth/coil-response.js";
import { coilSensitivity } from "../../../lib/earth/coil-sensitivity.js";
import { channelOf } from "../../support/campaign.js";
import { expectClose } from "../../support/expect-close.js";

const HEIGHT_M = 0.6;
const KNEE_PPM = 400;
const channels = [
  channelOf({ orientation: "HCP", frequency_Hz: 9000, separation_m: 1.8 }),
  channelOf({ orientation: "VCP", frequency_Hz: 40_000, separation_m: 1.8, kind: "inphase" }),
  channelOf({ orientation: "PRP", frequency_Hz: 9000, separation_m: 3.2 }),
];
const { earths, tried } = triedEarths({
  count: 60,
  shares: KIND_SHARES,
  reachable: () => true,
  source: new EarthSource(11),
});
const ensemble = ensembleOf(earths, tried);
const WIDTH = channels.length + 1;
const TIE = { top_m: 0.7, base_m: 2.9 };
const setup = {
  channels,
  height_m: Float64Array.of(HEIGHT_M),
  knee_ppm: Float64Array.from(channels, () => KNEE_PPM),
  ties: [TIE],
  width: WIDTH,
};
const store = () => new ResponseStore({ channels, height_m: HEIGHT_M });
const responses = memberResponses(ensemble, setup, store());

function earthOf(k: number) {
  const at = k * MOST_LAYERS;
  const layers = ensemble.layers[k]!;
  const ln = ensemble.lnConductivity.subarray(at, at + layers);
  return {
    conductivity_S_per_m: Array.from(ln, Math.exp),
    thickness_m: Array.from(ensemble.thickness_m.subarray(at, at + layers - 1)),
  };
}

function byLogOf({ byLog }: MemberResponses, k: number): Float32Array {
  const layers = ensemble.layers[k]!;
  const out = new Float32Array(layers * WIDTH);
  writeByLog(byLog, { k, layers }, out);
  return out;
}

describe("memberResponses", () => {
  it("are those of coilResponse on the reading scale, to a twentieth of the usual noise", () => {
    for (let k = 0; k < ensemble.count; k++) {
      for (const [d, channel] of channels.entries()) {
        const reading = coilResponse(earthOf(k), { ...channel, height_m: HEIGHT_M });
        const ppm = channel.kind === "inphase" ? reading.inphase_ppm : reading.quadrature_ppm;
        const value = responses.value[k * WIDTH + d]!;
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
        const byHeight = responses.byHeight[k * WIDTH + d]!;
        expectClose(byHeight, slope * exact.byHeight_per_m[part], near);
        for (let j = 0; j < ensemble.layers[k]!; j++) {
          const byLog = byLogOf(responses, k)[j * WIDTH + d]!;
          expectClose(byLog, slope * exact.byLnConductivity[part][j]!, near);
        }
      }
    }
  });

  it("change with all depths as differences of stretched earths do", () => {
    const stretched = earths.map((earth) => ({
      ...earth,
      thickness_m: earth.thickness_m.map((t) => 1.02 * t),
    }));
    const further = memberResponses(ensembleOf(stretched, tried), setup, store());
    for (let k = 0; k < ensemble.count; k++) {
      for (const d of channels.keys()) {
        const at = k * WIDTH + d;
        const difference = (further.value[at]! - responses.value[at]!) / Math.log(1.02);
        // Over a spread of 0.15 an error of 0.02 is 0.3 % of a reading.
        expectClose(responses.byStretch[at]!, difference, { absolute: 0.02, relative: 0.03 });
      }
    }
  });

  it("of a tie are the mean between its depths, by the layers' shares", () => {
    for (const [k, earth] of earths.entries()) {
      const at = k * WIDTH + channels.length;
      const mean = meanBetween(earth, TIE.top_m, TIE.base_m);
      expectClose(responses.value[at]!, mean, { absolute: 1e-5 });
      eachShare(earth, TIE.top_m, TIE.base_m, (j, share) => {
        const byLog = byLogOf(responses, k)[j * WIDTH + channels.length]!;
        expectClose(byLog, share, { absolute: 1e-6 });
      });
    }
  });

  it("are the same from a store that holds them already, in another order and on another scale", () => {
    const kept = store();
    memberResponses(ensembleOf(earths.slice().reverse(), tried), setup, kept);
    const again = memberResponses(ensemble, setup, kept);
    const plain = ({ byLog: _, ...rest }: MemberResponses) => rest;
    expect(plain(again)).toEqual(plain(responses));
    for (let k = 0; k < ensemble.count; k++) {
      expect(byLogOf(again, k)).toEqual(byLogOf(responses, k));
    }
  });
});

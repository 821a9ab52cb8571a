import { describe, it } from "vitest";
import { ppmPerUnit, stationNoise } from "../../../lib/depth/data/noise-model.js";
import { channelOf } from "../../support/campaign.js";
import { expectClose } from "../../support/expect-close.js";

describe("ppmPerUnit", () => {
  it("turns apparent conductivity back by the low-induction relation (McNeill 1980)", () => {
    const channel = channelOf({ kind: "conductivity", frequency_Hz: 9000, separation_m: 3.66 });
    // By hand: 2π · 9000 Hz · 4π 1e-7 H/m · (3.66 m)² · 0.025 S/m / 4 = 5949.42e-6.
    expectClose(25 * ppmPerUnit(channel), 5949.42, { relative: 1e-5 });
  });

  it("leaves ppm as they are", () => {
    expectClose(ppmPerUnit(channelOf({ kind: "inphase" })), 1, { absolute: 1e-15 });
  });
});

describe("stationNoise", () => {
  it("averages the scatter of readings and never the proportional part", () => {
    const entry = {
      channel: channelOf(),
      resource: "walk",
      mean: Float64Array.of(1000),
      count: Uint16Array.of(4),
      noise: 30,
    };
    const noise = stationNoise(entry, 0, { proportionalNoise: 0.02, floor_ppm: 5 });
    expectClose(noise, Math.hypot(20, 15), { relative: 1e-12 });
  });
});

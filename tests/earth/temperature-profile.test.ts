import { describe, expect, it } from "vitest";
import { temperatureProfile } from "../../lib/earth/temperature-profile.js";
import { seededRandom } from "../../lib/numerics/random.js";
import { expectClose } from "../support/expect-close.js";

const DAY = 86_400;
const START = 1.9e9;

/** The truth: mean 10.6 °C, amplitude 8.1 °C, damping depth 2.24 m. */
const wave = (depth_m: number, time_s: number) =>
  10.6 +
  8.1 *
    Math.exp(-depth_m / 2.24) *
    Math.cos((2 * Math.PI * time_s) / (365.2425 * DAY) - depth_m / 2.24 - 1);

function measured(days: readonly number[], depths: readonly number[], noise = 0) {
  const random = seededRandom(11);
  return days.flatMap((day) =>
    depths.map((depth_m) => ({
      time_s: START + day * DAY,
      depth_m,
      temperature_degC: wave(depth_m, START + day * DAY) + noise * random.normal(),
    })),
  );
}

describe("temperatureProfile with measurements over the seasons", () => {
  const rows = measured([0, 60, 130, 200, 300], [0.1, 0.5, 1, 2, 4]);

  it("recovers the annual wave that made them", () => {
    const profile = temperatureProfile(rows, START + 100 * DAY)!;
    expect(profile.method).toBe("annual wave");
    // The damping depth is searched to 0.1 %.
    expectClose(profile.wave!.damping_m, 2.24, { relative: 1e-3 });
    expectClose(profile.wave!.mean_degC, 10.6, { absolute: 0.01 });
    expectClose(profile.wave!.amplitude_degC, 8.1, { absolute: 0.01 });
    for (const depth_m of [0, 0.7, 3, 6]) {
      expectClose(profile.at(depth_m), wave(depth_m, START + 100 * DAY), { absolute: 0.01 });
    }
  });

  it("says how far the measurements reach in depth and time", () => {
    const profile = temperatureProfile(rows, START + 100 * DAY)!;
    expect([profile.measuredFrom_m, profile.measuredTo_m]).toEqual([0.1, 4]);
    expectClose(profile.nearest_days, 30, { absolute: 1e-9 });
  });

  it("averages noise out and gives it as the misfit", () => {
    const noisy = measured([0, 60, 130, 200, 300], [0.1, 0.5, 1, 2, 4], 0.5);
    const profile = temperatureProfile(noisy, START + 100 * DAY)!;
    // 25 measurements, 4 unknowns: 0.5 · sqrt(21/25) = 0.46, give or take 30 %.
    expectClose(profile.wave!.rms_degC, 0.46, { relative: 0.3 });
    expectClose(profile.at(1), wave(1, START + 100 * DAY), { absolute: 0.5 });
  });
});

describe("temperatureProfile with few measurements", () => {
  const rows = measured([0, 170], [0.5, 1, 2]);

  it("interpolates in depth between those nearest in time, and holds the ends", () => {
    const profile = temperatureProfile(rows, START + 10 * DAY)!;
    expect(profile.method).toBe("interpolated");
    const [shallow, middle, deep] = [0.5, 1, 2].map((depth_m) => wave(depth_m, START));
    expectClose(profile.at(1), middle!, { relative: 1e-14 });
    expectClose(profile.at(0.75), (shallow! + middle!) / 2, { relative: 1e-14 });
    expectClose(profile.at(0), shallow!, { relative: 1e-14 });
    expectClose(profile.at(9), deep!, { relative: 1e-14 });
  });

  it("uses nothing that is more than 45 days away", () => {
    expect(temperatureProfile(rows, START + 90 * DAY)).toBeNull();
    expect(temperatureProfile(rows, START + 126 * DAY)!.at(1)).toBe(wave(1, START + 170 * DAY));
  });

  it("is null without measurements or without a date, and leaves rows with NaN out", () => {
    expect(temperatureProfile([], START)).toBeNull();
    expect(temperatureProfile(rows, Number.NaN)).toBeNull();
    const broken = [{ time_s: START, depth_m: 1, temperature_degC: Number.NaN }];
    expect(temperatureProfile(broken, START)).toBeNull();
    expect(temperatureProfile([...broken, ...rows], START)!.at(1)).toBe(wave(1, START));
    expect(temperatureProfile(rows, START)!.at(Number.NaN)).toBeNaN();
  });
});

import { describe, expect, it } from "vitest";
import { coilKernel, type KernelSetup } from "../../lib/earth/coil-kernel.js";
import { coilResponse } from "../../lib/earth/coil-response.js";
import { seededRandom } from "../../lib/numerics/random.js";
import { StepError } from "../../lib/step/step-error.js";
import { expectClose } from "../support/expect-close.js";

const thickness_m = Array.from({ length: 19 }, (_, i) => 0.2 * 1.1 ** i);

function channels(separations_m: readonly number[], frequencies_Hz = [1500, 4800, 60000]) {
  return separations_m.flatMap((separation_m) =>
    frequencies_Hz.flatMap((frequency_Hz) =>
      (["HCP", "VCP", "PRP"] as const).map((orientation) => ({
        orientation,
        separation_m,
        frequency_Hz,
      })),
    ),
  );
}

function randomModel(seed: number): Float64Array {
  const random = seededRandom(seed);
  const level = Math.log(0.02) + random.normal();
  return Float64Array.from({ length: 20 }, () => level + random.normal());
}

function nudged(model: Float64Array, layer: number, step: number): Float64Array {
  return model.map((value, j) => (j === layer ? value + step : value));
}

/** The largest deviation from coilResponse, as a share of each reading's larger component. */
function worstShare(setup: KernelSetup, model: Float64Array): number {
  const kernel = coilKernel(setup);
  const out = kernel.output();
  kernel.evaluate(model, out);
  const earth = { conductivity_S_per_m: model.map(Math.exp), thickness_m: setup.thickness_m };
  const shares = setup.channels.map((channel, c) => {
    const exact = coilResponse(earth, { ...channel, height_m: setup.height_m });
    const larger = Math.max(Math.abs(exact.inphase_ppm), Math.abs(exact.quadrature_ppm));
    const re = out.inphase_ppm[c]! - exact.inphase_ppm;
    const im = out.quadrature_ppm[c]! - exact.quadrature_ppm;
    return Math.hypot(re, im) / larger;
  });
  return Math.max(...shares);
}

describe("coilKernel", () => {
  it("agrees with coilResponse to 1e-5 at every height and for mixed separations", () => {
    for (const height_m of [0, 0.1, 0.3, 0.9, 1.5]) {
      for (const separations of [[1.8], [1, 4], [0.5]]) {
        for (const seed of [1, 2, 3]) {
          const setup = { thickness_m, height_m, channels: channels(separations) };
          expect(worstShare(setup, randomModel(seed))).toBeLessThan(1e-5);
        }
      }
    }
  });

  it("agrees with it over weak and strong half-spaces at low and high frequencies", () => {
    for (const conductivity of [1e-4, 1e-2, 1, 5]) {
      const setup = { thickness_m: [], height_m: 0.9, channels: channels([1.8], [100, 1e5]) };
      expect(worstShare(setup, Float64Array.of(Math.log(conductivity)))).toBeLessThan(1e-5);
    }
  });

  it("stays within 3e-5 on drawn layers, heights, coils and frequencies down to 1e-4 S/m", () => {
    const random = seededRandom(12);
    const one = (of: readonly number[]) => of[random.integer(of.length)]!;
    for (let draw = 0; draw < 60; draw++) {
      const layers = 1 + random.integer(25);
      const level = Math.log(1e-4) + 7 * random.uniform();
      const model = Float64Array.from({ length: layers }, () =>
        Math.max(Math.log(1e-4), level + random.normal()),
      );
      const setup = {
        thickness_m: Array.from({ length: layers - 1 }, () => 0.1 + 1.5 * random.uniform()),
        height_m: one([0, 0.1, 0.3, 0.9, 2]),
        channels: channels([one([0.5, 1.8, 4])], [one([100, 1500, 9000]), 20_000]),
      };
      expect(worstShare(setup, model)).toBeLessThan(3e-5);
    }
  });

  it("gives the derivatives that finite differences give", () => {
    const kernel = coilKernel({ thickness_m, height_m: 0.9, channels: channels([1.8, 4]) });
    const model = randomModel(7);
    const [here, up, down] = [kernel.output(), kernel.output(), kernel.output()];
    kernel.evaluate(model, here);
    const step = 1e-4;
    for (let j = 0; j < kernel.layers; j++) {
      kernel.evaluate(nudged(model, j, step), up);
      kernel.evaluate(nudged(model, j, -step), down);
      for (let c = 0; c < kernel.channels; c++) {
        const larger = Math.max(Math.abs(here.inphase_ppm[c]!), Math.abs(here.quadrature_ppm[c]!));
        for (const part of ["inphase_ppm", "quadrature_ppm"] as const) {
          const difference = (up[part][c]! - down[part][c]!) / (2 * step);
          // Central differences: third derivative · step²/6, about 1e-8 of the response.
          const tolerance = { absolute: 2e-8 * larger };
          expectClose(here.jacobian![part][c * kernel.layers + j]!, difference, tolerance);
        }
      }
    }
  });

  it("fills the same responses with and without derivatives, and every time anew", () => {
    const kernel = coilKernel({ thickness_m, height_m: 0.5, channels: channels([1.8]) });
    const full = kernel.output();
    kernel.evaluate(randomModel(8), full);
    kernel.evaluate(randomModel(9), full);
    const short = { inphase_ppm: new Float64Array(9), quadrature_ppm: new Float64Array(9) };
    kernel.evaluate(randomModel(9), short);
    expect([...short.inphase_ppm]).toEqual([...full.inphase_ppm]);
    expect([...short.quadrature_ppm]).toEqual([...full.quadrature_ppm]);
  });

  it("takes a layer at −Infinity for an insulator without derivatives", () => {
    const setup = { thickness_m: [1], height_m: 0.9, channels: channels([1.8]) };
    const kernel = coilKernel(setup);
    const out = kernel.output();
    kernel.evaluate(Float64Array.of(-Infinity, Math.log(0.05)), out);
    expect(worstShare(setup, Float64Array.of(-Infinity, Math.log(0.05)))).toBeLessThan(1e-5);
    expect(out.jacobian!.quadrature_ppm[0]).toBe(0);
    expect(out.jacobian!.quadrature_ppm[1]).toBeGreaterThan(0);
  });

  it("passes NaN on instead of hiding it", () => {
    const kernel = coilKernel({ thickness_m: [1], height_m: 0.9, channels: channels([1.8]) });
    const out = kernel.output();
    kernel.evaluate(Float64Array.of(Number.NaN, 0), out);
    expect(out.inphase_ppm[0]).toBeNaN();
    expect(out.jacobian!.quadrature_ppm[0]).toBeNaN();
  });

  it("names every fault of its setup", () => {
    const bad = { thickness_m: [0], height_m: -1, channels: channels([0], [1500]).slice(0, 1) };
    let paths: string[] = [];
    try {
      coilKernel(bad);
    } catch (error) {
      paths = (error as StepError).faults.map((fault) => fault.path);
      expect(error).toBeInstanceOf(StepError);
    }
    expect(paths).toEqual([
      "setup.thickness_m[0]",
      "setup.channels[0].separation_m",
      "setup.channels[0].height_m",
    ]);
    expect(() => coilKernel({ thickness_m: [], height_m: 1, channels: [] })).toThrow(
      "coilKernel: setup.channels must be one channel at least, got none",
    );
  });
});

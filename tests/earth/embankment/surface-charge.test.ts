import { describe, it } from "vitest";
import { outlineThrough, straightLine } from "../../../lib/earth/embankment/outline.js";
import { fillLayerRow, layerRow } from "../../../lib/earth/embankment/single-layer.js";
import { chargeSolvers } from "../../../lib/earth/embankment/surface-charge.js";
import { besselK0, besselK1 } from "../../../lib/numerics/functions/modified-bessel.js";
import { expectClose } from "../../support/expect-close.js";

const corners = [
  { x: -9, z: -3 },
  { x: -1.5, z: 0 },
  { x: 1.5, z: 0 },
  { x: 6, z: -3 },
];
const surface = outlineThrough(corners, { smallest: 0.05 });

describe("the charges on a ground surface", () => {
  it.each([0.02, 0.3, 2])("make the field whose flux they are given, k = %f", (k) => {
    // A line source above ground: within the ground its K0(kr) is harmonic, and is found from its
    // flux.
    const source = { x: 0.4, z: 1 };
    const flux = Float64Array.from(surface.x, (x, i) => {
      const [dx, dz] = [x - source.x, surface.z[i]! - source.z];
      const r = Math.hypot(dx, dz);
      const outward = (dx * surface.normalX[i]! + dz * surface.normalZ[i]!) / r;
      return k * r > 40 ? 0 : -k * besselK1(k * r) * outward;
    });
    const charge = chargeSolvers(surface)(k)(flux);
    const row = layerRow(surface.x.length);
    const summed = (weights: Float64Array) =>
      weights.reduce((sum, weight, i) => sum + weight * charge[i]!, 0);
    // On the slope too (at a point of the outline), and a hand's breadth below it.
    const onSlope = surface.x.findIndex((x) => x > 3);
    const places = [
      { x: surface.x[onSlope]!, z: surface.z[onSlope]! },
      { x: 2.4, z: -0.7 },
      { x: -3, z: -1.5 },
      { x: 0, z: -4 },
    ];
    for (const [i, at] of places.entries()) {
      fillLayerRow(row, surface, [at, k]);
      const r = Math.hypot(at.x - source.x, at.z - source.z);
      // Panels of 0.05 m at the corners; at k = 0.02 the far end of the level ground.
      expectClose(summed(row.potential), besselK0(k * r), { relative: 2e-3 });
      if (i === 0) continue;
      const rise = (-k * besselK1(k * r) * (at.z - source.z)) / r;
      expectClose(summed(row.rise), rise, { relative: 2e-3 });
    }
  });
});

describe("fillLayerRow", () => {
  const [k, length] = [0.7, 2];
  const line = straightLine({ x: 0, z: -1 }, { x: length, z: -1 }, [0.2, 0.2]);

  it.each([
    [1.1, 0.4],
    [0.3, 0.02],
    [2.3, 0],
    [5, -2],
  ])("integrates a varying density seen from (%f, %f)", (x, above) => {
    const row = layerRow(line.x.length);
    fillLayerRow(row, line, [{ x, z: -1 + above }, k]);
    const found = row.potential.reduce((sum, weight, i) => sum + weight * line.x[i]! ** 2, 0);
    const rise = row.rise.reduce((sum, weight, i) => sum + weight * line.x[i]! ** 2, 0);
    let [potential, byZ] = [0, 0];
    const steps = 200_000;
    for (let i = 0; i < steps; i++) {
      const s = ((i + 0.5) * length) / steps;
      const r = Math.hypot(x - s, above);
      const share = (s ** 2 * length) / steps / (2 * Math.PI);
      potential += share * besselK0(k * r);
      byZ -= (share * k * besselK1(k * r) * above) / r;
    }
    expectClose(found, potential, { relative: 1e-4 });
    expectClose(rise, byZ, { relative: 1e-4, absolute: 1e-12 });
  });

  it("is logarithmic on the line itself", () => {
    const row = layerRow(line.x.length);
    const at = line.x[9]!;
    fillLayerRow(row, line, [{ x: at, z: -1 }, k]);
    const found = row.potential.reduce((sum, weight) => sum + weight, 0);
    // ∫ K0(k|s|) ds from 0 to a and b: midpoints of s = a v², which has no singularity left.
    const arm = (a: number) => {
      let sum = 0;
      for (let i = 0; i < 20_000; i++) {
        const v = (i + 0.5) / 20_000;
        sum += (besselK0(k * a * v * v) * 2 * a * v) / 20_000;
      }
      return sum;
    };
    expectClose(found, (arm(at) + arm(length - at)) / (2 * Math.PI), { relative: 1e-4 });
  });
});

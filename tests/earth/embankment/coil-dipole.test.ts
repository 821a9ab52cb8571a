import { describe, it } from "vitest";
import {
  type DipoleAxis,
  streamGradient,
  streamTransform,
} from "../../../lib/earth/embankment/coil-dipole.js";
import { expectClose } from "../../support/expect-close.js";

const AXES: readonly DipoleAxis[] = ["upright", "across", "along"];

/** χ as its definition states it. */
function stream(axis: DipoleAxis, x: number, y: number, depth: number): number {
  const r = Math.hypot(x, y, depth);
  if (axis === "upright") return 1 / r;
  return -(axis === "across" ? x : y) / (r * (r + depth));
}

describe("the field below a coil", () => {
  it.each(AXES)("has the gradient of its stream function: %s", (axis) => {
    const [x, y, depth, step] = [1.3, -0.7, 0.9, 1e-4];
    const out = new Float64Array(2);
    streamGradient(axis, { x, y, depth }, out);
    const byX = stream(axis, x + step, y, depth) - stream(axis, x - step, y, depth);
    const byY = stream(axis, x, y + step, depth) - stream(axis, x, y - step, depth);
    // Central differences: an error of step squared.
    expectClose(out[0]!, byX / (2 * step), { absolute: 1e-7 });
    expectClose(out[1]!, byY / (2 * step), { absolute: 1e-7 });
  });

  it.each(AXES)("is that of a dipole: %s", (axis) => {
    // B = −∇Φ with Φ = m·r/r³, and B's vertical part is −(∂²χ/∂x² + ∂²χ/∂y²).
    const [x, y, depth, step] = [1.3, -0.7, 0.9, 1e-3];
    const at = (dx: number, dy: number) => stream(axis, x + dx, y + dy, depth);
    const around = at(step, 0) + at(-step, 0) + at(0, step) + at(0, -step) - 4 * at(0, 0);
    const r = Math.hypot(x, y, depth);
    const [mx, my, mz] = [axis === "across", axis === "along", axis === "upright"].map(Number);
    const along = mx! * x + my! * y - mz! * depth;
    const upward = (3 * along * -depth) / r ** 5 - mz! / r ** 3;
    expectClose(-around / step ** 2, upward, { absolute: 1e-5 });
  });

  it.each([
    ["upright", 0.05],
    ["upright", 1.5],
    ["across", 0.05],
    ["across", 1.5],
    ["along", 0.05],
    ["along", 1.5],
  ] as const)("has the transform of its stream function: %s, k = %f", (axis, k) => {
    const at = { x: 1.3, depth: 0.9 };
    // ∫ χ exp(−iky) dy by the trapezoidal rule, χ being even or odd, faded out by exp(−(y/L)²).
    // What that changes is of the order of 1/(kL)².
    const [length, step] = [4000, 0.05];
    let sum = 0;
    for (let y = -5 * length; y <= 5 * length; y += step) {
      const fade = Math.exp(-((y / length) ** 2));
      const wave = axis === "along" ? -Math.sin(k * y) / k : Math.cos(k * y);
      sum += stream(axis, at.x, y, at.depth) * fade * wave * step;
    }
    expectClose(sum, streamTransform(axis, at, k), { relative: 2e-4 });
  });
});

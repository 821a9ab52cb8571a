import { describe, expect, it } from "vitest";
import { recoveryOf } from "../../../lib/sections/plan/recovery.js";
import type { SectionValues } from "../../../lib/sections/section.js";
import { expectClose } from "../../support/expect-close.js";

const target = { length_m: 2, top_m: 1, base_m: 2, resistivityRatio: 10 };
const isTarget = (x: number, z: number) => x > 4 && x < 6 && z > 1 && z < 2;
const ground = {
  ...{ from_m: 4, to_m: 6, isTarget, host: () => 10 },
  truth: (x: number, z: number) => (isTarget(x, z) ? 100 : 10),
};
const x_m = Array.from({ length: 11 }, (_, i) => i);
const depth_m = [0, 1, 2, 3, 5];

/** Cells of a metre, column by column, by what is in each. */
function sectionOf(log10: (x: number, z: number) => number, isReliable = true) {
  const values = x_m.slice(1).flatMap((x) => [0.5, 1.5, 2.5, 4].map((z) => log10(x - 0.5, z)));
  const cells = {
    ...{ x_m, depth_m, log10Resistivity: Float64Array.from(values) },
    reliable: new Uint8Array(values.length).fill(isReliable ? 1 : 0),
  };
  return { cells: cells as unknown as SectionValues };
}

describe("recoveryOf", () => {
  it.each([
    ["the truth", (x: number, z: number) => Math.log10(ground.truth(x, z)), 1, 1],
    ["nothing", () => 1, 0, 0],
    [
      "less than half of the contrast",
      (x: number, z: number) => (isTarget(x, z) ? 1.4 : 1),
      0,
      0.4,
    ],
    // One metre of the two, and one beside it.
    ["a body a metre off", (x: number, z: number) => (isTarget(x - 1, z) ? 2 : 1), 1 / 3, 0.5],
    ["a body of twice the depth", (x: number, z: number) => (isTarget(x, z / 1.4) ? 2 : 1), 0.5, 1],
  ])("judges a section that shows %s", (_, log10, overlap, contrast) => {
    const found = recoveryOf(sectionOf(log10), ground, target);
    expectClose(found.overlap, overlap, { absolute: 1e-9 });
    expectClose(found.contrast, contrast, { absolute: 1e-9 });
    expect(found.reliable).toBe(1);
  });

  it("recovers nothing below the last row", () => {
    const deep = { ...ground, isTarget: (_: number, z: number) => z > 9 };
    const found = recoveryOf(
      sectionOf(() => 1),
      deep,
      { ...target, top_m: 9, base_m: 10 },
    );
    expect(found).toEqual({ overlap: 0, reliable: 0, contrast: 0 });
  });

  it("takes nothing for recovered that is not reliable", () => {
    const truth = sectionOf((x, z) => Math.log10(ground.truth(x, z)), false);
    expect(recoveryOf(truth, ground, target)).toEqual({ overlap: 0, reliable: 0, contrast: 1 });
  });
});

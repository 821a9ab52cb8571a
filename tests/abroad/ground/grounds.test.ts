import { describe, expect, it } from "vitest";
import { expectClose } from "../../support/expect-close.js";
import { median } from "../judged/score.js";
import { makeSurvey } from "../survey.js";
import { cutAt, earthOf, meanLog10, raised } from "./columns.js";
import { GROUND_KINDS, makeGround } from "./grounds.js";
import type { Ground } from "./layered-ground.js";

const LENGTH_M = 400;
const ground = (kind: (typeof GROUND_KINDS)[number], seed = 3, length_m = LENGTH_M) =>
  makeGround(kind, { seed, length_m });
const along = (one: Ground, step_m = 5) =>
  Array.from({ length: Math.floor(one.length_m / step_m) }, (_, i) => i * step_m);
const median10 = (one: Ground, top_m: number, base_m: number) =>
  10 ** median(along(one).map((x) => meanLog10(one.columnAt(x), top_m, base_m)));

describe("grounds of the menagerie", () => {
  it("are layers from the surface down with finite resistivities, at every chainage", () => {
    for (const kind of GROUND_KINDS) {
      const one = ground(kind);
      for (const x of along(one)) {
        const { top_m, log10 } = one.columnAt(x);
        expect(top_m[0]).toBe(0);
        expect(top_m.every((top, j) => j === 0 || top > top_m[j - 1]!)).toBe(true);
        expect(log10.length).toBe(top_m.length);
        expect(log10.every((value) => value > -0.5 && value < 4)).toBe(true);
      }
    }
  });

  it("come again with their seed and differ with another", () => {
    for (const kind of GROUND_KINDS) {
      const text = (seed: number) => {
        const one = ground(kind, seed);
        return along(one).map(one.columnAt);
      };
      expect(text(3)).toEqual(text(3));
      expect(text(3)).not.toEqual(text(4));
    }
  });

  it("tell the mean between depths as the sum over their layers does", () => {
    for (const kind of GROUND_KINDS) {
      const column = ground(kind).columnAt(123);
      // Midpoints of 1 mm pieces; a layer border inside a piece is off by less than its step × 1 mm.
      const pieces = Array.from({ length: 2000 }, (_, i) => 0.5 + (i + 0.5) / 1000);
      const at = (z: number) => column.log10[column.top_m.findLastIndex((top) => top <= z)]!;
      const mean = pieces.reduce((sum, z) => sum + at(z), 0) / pieces.length;
      expectClose(meanLog10(column, 0.5, 2.5), mean, { absolute: 5e-3 });
      const halves = (meanLog10(column, 0.5, 1.5) + meanLog10(column, 1.5, 2.5)) / 2;
      expectClose(meanLog10(column, 0.5, 2.5), halves, { absolute: 1e-12 });
    }
  });

  it("change at their boundaries by more than nearby, and gradational ones have none", () => {
    for (const kind of ["blocks", "thin layers", "saline foundation", "peat"] as const) {
      const steps: number[] = [];
      const texture: number[] = [];
      for (let seed = 1; seed <= 10; seed++) {
        const one = ground(kind, seed);
        expect(one.boundaries_m.length).toBeGreaterThan(0);
        for (const boundary of one.boundaries_m) {
          steps.push(...differences(one, boundary, 8));
          texture.push(...differences(one, boundary - 22, 8));
        }
      }
      expect(rms(steps)).toBeGreaterThan(1.3 * rms(texture));
    }
    for (const kind of ["gradational", "random walk", "dry crest"] as const) {
      expect(ground(kind).boundaries_m).toEqual([]);
    }
  });

  it("are what their names say", () => {
    const gradual = ground("gradational", 2, 1000);
    const rise = Math.abs(meanOver(gradual, 900) - meanOver(gradual, 100));
    // 0.8 of a factor 3 over a kilometre; texture of 0.06 leaves about 0.03 in means of 200 m.
    expectClose(rise, 0.8 * Math.log10(3), { absolute: 0.1 });
    const dry = ground("dry crest");
    expect(median10(dry, 0, 0.4)).toBeGreaterThan(290);
    expect(median10(dry, 0, 0.4)).toBeLessThan(1050);
    expectClose(median10(dry, 2.1, 6), 10, { relative: 0.15 });
    expect(median10(ground("saline foundation"), 5, 6)).toBeLessThan(3.5);
    const thinly = ground("thin layers");
    const thin = along(thinly, 1).flatMap((x) => thinly.columnAt(x).log10);
    expect(Math.min(...thin)).toBeLessThan(Math.log10(9));
    expect(Math.max(...thin)).toBeGreaterThan(Math.log10(270));
  });
});

describe("columns", () => {
  const column = { top_m: [0, 1, 3], log10: [1, 2, 1.5] };

  it("are conductivities and thicknesses to the forward model", () => {
    const earth = earthOf(column);
    expect([...Array.from(earth.thickness_m)]).toEqual([1, 2]);
    expectClose(earth.conductivity_S_per_m[1]!, 0.01, { relative: 1e-12 });
  });

  it("keep their ground when cut, and change between two depths alone", () => {
    expect(cutAt(column, 2)).toEqual({ top_m: [0, 1, 2, 3], log10: [1, 2, 2, 1.5] });
    expect(cutAt(column, 3)).toEqual(column);
    const change = { from_m: 0, to_m: 9, top_m: 0.5, base_m: 2, factor: 10 };
    const after = raised(column, change);
    expect(after).toEqual({ top_m: [0, 0.5, 1, 2, 3], log10: [1, 2, 3, 2, 1.5] });
  });

  it("change in the stretch from the second campaign on", () => {
    const changes = [{ from_m: 50, to_m: 90, top_m: 0.5, base_m: 1.5, factor: 0.5 }];
    const plan = { seed: 1, ground: "blocks", instrument: "2 and 4 m, mS/m" } as const;
    const { truth } = makeSurvey({ ...plan, length_m: 100, campaigns: 2, changes });
    const { truth: same } = makeSurvey({ ...plan, length_m: 100, campaigns: 2 });
    const change = (chainage_m: number, campaign: number) =>
      truth.meanLog10({ chainage_m, campaign }, 0.5, 1.5) -
      same.meanLog10({ chainage_m, campaign }, 0.5, 1.5);
    expect(change(70, 0)).toBe(0);
    expect(change(30, 1)).toBe(0);
    expectClose(change(70, 1), Math.log10(0.5), { absolute: 1e-12 });
  });
});

function differences(one: Ground, at_m: number, apart_m: number): number[] {
  const sides = [one.columnAt(at_m - apart_m), one.columnAt(at_m + apart_m)] as const;
  return [0, 1, 2, 3].map((z) => meanLog10(sides[1], z, z + 1) - meanLog10(sides[0], z, z + 1));
}

const rms = (values: readonly number[]) => Math.hypot(...values) / Math.sqrt(values.length);

function meanOver(one: Ground, middle_m: number): number {
  const places = Array.from({ length: 200 }, (_, i) => middle_m - 99.5 + i);
  return places.reduce((sum, x) => sum + meanLog10(one.columnAt(x), 0, 3), 0) / places.length;
}

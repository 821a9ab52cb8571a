import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { CoilGeometry } from "../../../lib/earth/coil-quadrature.js";
import { embankmentCoilFactor } from "../../../lib/earth/embankment/embankment-coil-factor.js";
import { embankmentCoilSensitivities } from "../../../lib/earth/embankment/embankment-coil-sensitivity.js";
import type { EmbankmentShape } from "../../../lib/earth/embankment/shape.js";
import { StepError } from "../../../lib/numerics/step-error.js";
import { expectClose } from "../../support/expect-close.js";

const TOPS = Object.freeze([0, 0.5, 1, 2, 3, 4, 6, 10]);
const ORIENTATIONS = ["HCP", "VCP", "PRP"] as const;

const shape = (changed: Partial<EmbankmentShape> = {}): EmbankmentShape =>
  Object.freeze({
    crestWidth_m: 3,
    height_m: 3,
    watersideSlope: 2.5,
    landsideSlope: 2.5,
    offset_m: 0,
    ...changed,
  });

const coils = (changed: Partial<CoilGeometry> = {}): CoilGeometry =>
  Object.freeze({ orientation: "HCP", separation_m: 2, height_m: 0.9, ...changed });

const total = (bank: EmbankmentShape, pair: CoilGeometry) =>
  embankmentCoilFactor(bank, pair, [0]).total;

interface ElementCase {
  readonly shape: EmbankmentShape;
  readonly coils: CoilGeometry;
  readonly layerTops_m: readonly number[];
  readonly parts: readonly number[];
}

const file = new URL("./finite-elements.json", import.meta.url);
const elements: readonly ElementCase[] = JSON.parse(readFileSync(file, "utf8"));

describe("embankmentCoilFactor", () => {
  // Finite elements in three dimensions, charges on all surfaces, extrapolated (finite-
  // elements.py). Its two meshes lie 1 % apart at the most.
  it.each(elements)("has the parts that finite elements give: %#", (one) => {
    const [found] = embankmentCoilSensitivities(one.shape, [one.coils], one.layerTops_m);
    const largest = Math.max(...one.parts.map(Math.abs));
    for (const [j, part] of one.parts.entries()) {
      expectClose(found!.bank[j]!, part, { relative: 0.003, absolute: 5e-4 * largest });
    }
  });

  // Found by another finite element model: crest and height 3 m, 1:2.5, coils at 0.9 m. Toward 4 m
  // VCP rises to 0.88, as our own finite elements have it too.
  it.each([
    ["HCP", 0.74, 0.81],
    ["VCP", 0.84, 0.87],
  ] as const)("lies between the known figures for %s", (orientation, low, high) => {
    for (const separation_m of [1, 1.5, 2, 2.5, 3]) {
      const factor = total(shape(), coils({ orientation, separation_m }));
      // The figures are rounded to 0.01.
      expect(factor).toBeGreaterThan(low - 0.005);
      expect(factor).toBeLessThan(high + 0.005);
    }
  });

  it.each(ORIENTATIONS)("is 1 on level ground and near 1 on next to it: %s", (orientation) => {
    const pair = coils({ orientation });
    const level = embankmentCoilFactor(shape({ height_m: 0 }), pair, TOPS);
    expect(level.total).toBe(1);
    expect(level.layers).toEqual(TOPS.map(() => 1));
    expectClose(total(shape({ height_m: 0.0005 }), pair), 1, { absolute: 1e-3 });
    // Slopes 100 separations away: what is missing there falls as the square of the distance.
    const wide = embankmentCoilFactor(shape({ crestWidth_m: 400 }), pair, TOPS);
    expectClose(wide.total, 1, { absolute: 1e-3 });
    for (const layer of wide.layers.slice(0, 4)) expectClose(layer, 1, { absolute: 1e-3 });
  });

  it.each(ORIENTATIONS)("has layers that sum to the whole, however cut: %s", (orientation) => {
    const pair = coils({ orientation });
    const bank = shape({ landsideSlope: 1.5, offset_m: 0.7 });
    const parts = (tops: readonly number[]) => {
      const [found] = embankmentCoilSensitivities(bank, [pair], tops);
      const sum = found!.bank.reduce((all, part) => all + part, 0);
      expectClose(sum, found!.bankTotal, { relative: 1e-12 });
      return found!;
    };
    const deep = parts(TOPS).bank.subarray(4);
    const below = deep.reduce((sum, part) => sum + part, 0);
    // Panels are laid out anew for other depths, but only the slices beside the bank see it.
    expectClose(parts([0, 3]).bank[1]!, below, { relative: 1e-6 });
    // At the bank's base and at the crest the way of computing changes: no step there.
    for (const [at, tops] of [
      [1, [0, 2.999, 3.001]],
      [0, [0, 0.002]],
    ] as const) {
      const { bank, flat } = parts(tops);
      // Two millimetres count as on level ground but for a factor; a step would count a
      // hundredfold.
      expectClose(bank[at]!, flat[at]!, { relative: 1 });
    }
  });

  it.each(ORIENTATIONS)("follows reversal, mirror and unit of length: %s", (orientation) => {
    const pair = coils({ orientation });
    const bank = shape({ landsideSlope: 1.5, offset_m: 0.7 });
    const mirrored = shape({ watersideSlope: 1.5, offset_m: -0.7 });
    const doubled = shape({ crestWidth_m: 6, height_m: 6, landsideSlope: 1.5, offset_m: 1.4 });
    const tops = [0, 1, 3, 6];
    const here = embankmentCoilFactor(bank, pair, tops);
    const there = embankmentCoilFactor(mirrored, pair, tops);
    const larger = embankmentCoilFactor(
      doubled,
      coils({ orientation, separation_m: 4, height_m: 1.8 }),
      tops.map((top) => 2 * top),
    );
    // The same sums in another order; and lengths that only scale.
    for (const other of [there, larger]) {
      expectClose(other.total, here.total, { relative: 1e-6 });
      for (const [j, layer] of other.layers.entries()) {
        expectClose(layer, here.layers[j]!, { relative: 1e-5 });
      }
    }
  });

  it("gives many pairs over one cross-section what it gives each", () => {
    const pairs = ORIENTATIONS.flatMap((orientation) => [
      coils({ orientation }),
      coils({ orientation, separation_m: 4 }),
      coils({ orientation, height_m: 0.3 }),
    ]);
    const together = embankmentCoilSensitivities(shape(), pairs, TOPS);
    for (const [p, pair] of pairs.entries()) {
      const [alone] = embankmentCoilSensitivities(shape(), [pair], TOPS);
      // Panels and wavenumbers are chosen for all the pairs together.
      for (const [j, part] of together[p]!.bank.entries()) {
        expectClose(part, alone!.bank[j]!, { absolute: 3e-4 * alone!.bankTotal });
      }
    }
    expect(embankmentCoilSensitivities(shape(), [], TOPS)).toEqual([]);
  });

  it.each(ORIENTATIONS)("is continuous in the shape and in the coils' place: %s", (orientation) => {
    const pair = coils({ orientation });
    const base = { landsideSlope: 0.4, height_m: 2.5, offset_m: 0.4 };
    const here = total(shape(base), pair);
    const step = 0.002;
    const changed = [
      total(shape({ ...base, crestWidth_m: 3 + step }), pair),
      total(shape({ ...base, height_m: 2.5 + step }), pair),
      total(shape({ ...base, offset_m: 0.4 + step }), pair),
      total(shape({ ...base, landsideSlope: 0.4 + step }), pair),
      total(shape(base), coils({ orientation, separation_m: 2 + step })),
      total(shape(base), coils({ orientation, height_m: 0.9 + step })),
    ];
    for (const factor of changed) expectClose(factor, here, { absolute: 1e-3 });
  });

  it.each(ORIENTATIONS)(
    "bears coils on the ground, on the edge, on a sharp ridge: %s",
    (orientation) => {
      // On the very edge of a wall, coils on the ground: they are kept 2 cm off it.
      const wall = shape({ watersideSlope: 0, offset_m: -1.5 });
      for (const bank of [wall, shape({ crestWidth_m: 0.001 })]) {
        for (const height_m of [0, 0.9]) {
          const factor = total(bank, coils({ orientation, height_m }));
          // The crest 2 mm wider: no jump where coils are kept off its edge.
          const wider = { ...bank, crestWidth_m: bank.crestWidth_m + 0.002 };
          const next = total(wider, coils({ orientation, height_m }));
          expectClose(next, factor, { absolute: 0.005 });
          expect(factor).toBeGreaterThan(0.2);
          expect(factor).toBeLessThan(1.1);
        }
      }
    },
  );

  it("takes a negative part of the uppermost ground as it is", () => {
    const { layers } = embankmentCoilFactor(shape(), coils({ separation_m: 4 }), TOPS);
    expect(layers[0]).toBeLessThan(0);
    // Layers need not begin at the crest, nor be there at all.
    const deep = embankmentCoilFactor(shape(), coils({ separation_m: 4 }), [3, 4, 6, 10]);
    for (const [j, layer] of deep.layers.entries()) {
      expectClose(layer, layers[j + 4]!, { relative: 1e-4 });
    }
    expect(embankmentCoilFactor(shape(), coils(), []).layers).toHaveLength(0);
  });

  it("names all that is wrong at once", () => {
    const bad = shape({ crestWidth_m: 0, height_m: Number.NaN });
    const pair = { orientation: "XYZ", separation_m: 0, height_m: -1 } as unknown as CoilGeometry;
    expect(faultsOf(() => embankmentCoilFactor(bad, pair, [0, -1, Number.NaN]))).toEqual([
      "not-positive shape.crestWidth_m",
      "negative shape.height_m",
      "orientation coils.orientation",
      "not-positive coils.separation_m",
      "negative coils.height_m",
      "negative layerTops_m[1]",
    ]);
    expect(() => embankmentCoilFactor(shape(), coils(), [0, 2, 2])).toThrow(
      "embankmentCoilFactor: layerTops_m[2] must be above the one before, 2, got 2",
    );
    expect(faultsOf(() => embankmentCoilFactor(shape(), coils(), 3 as unknown as []))).toEqual([
      "not-a-list layerTops_m",
    ]);
  });
});

function faultsOf(call: () => unknown): string[] {
  try {
    call();
  } catch (error) {
    if (error instanceof StepError) return error.faults.map(({ code, path }) => `${code} ${path}`);
    throw error;
  }
  return [];
}

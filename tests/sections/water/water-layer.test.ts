import { describe, expect, it } from "vitest";
import { geometricFactor } from "../../../lib/earth/spread.js";
import { predictedOf } from "../../../lib/sections/invert/section-data.js";
import { sectionCells } from "../../../lib/sections/model/section-cells.js";
import { electrodePotentialsOf, sectionModel } from "../../../lib/sections/model/section-model.js";
import { positionsOf } from "../../../lib/sections/section-input.js";
import { sectionResponse } from "../../../lib/sections/section-response.js";
import { dipoleSpreads, electrodesAt, wennerSpreads } from "../../support/electrode-lines.js";
import { expectClose } from "../../support/expect-close.js";
import { faultsOf } from "../../support/expect-fault.js";

const COUNT = 12;
const level = electrodesAt(COUNT);
const spreads = [...wennerSpreads(COUNT, [1, 2, 3]), ...dipoleSpreads(COUNT, [1, 2, 3])];
const places = spreads.map((spread) => positionsOf(spread, level));
const even = (resistivity_ohm_m: number) => ({
  ...{ x_m: [0, COUNT], depth_m: [0, 5] },
  resistivity_ohm_m: [[resistivity_ohm_m]],
});

/**
 * Potential at a distance along the bed of a layer of water, ohm for 1 A: the kernel
 * 1/(σ_g + σ_w tanh λh) as a series of images at 2nh (image method, Telford, Geldart & Sheriff
 * 1990, 8.3; derived for a source on the bed; mark calc).
 */
function onBed(r_m: number, { depth_m, water, ground }: Layer): number {
  const [up, down] = [1 / water, 1 / ground];
  const ratio = -(down - up) / (down + up);
  let sum = 0;
  for (let n = 0; n < 400; n++) {
    const pair = 1 / Math.hypot(r_m, 2 * n * depth_m) + 1 / Math.hypot(r_m, 2 * (n + 1) * depth_m);
    sum += ratio ** n * pair;
  }
  return sum / (2 * Math.PI * (up + down));
}

interface Layer {
  readonly depth_m: number;
  readonly water: number;
  readonly ground: number;
}

describe("electrodes on the bed of a layer of water", () => {
  const waters: readonly Layer[] = [
    { depth_m: 1, water: 25, ground: 50 },
    { depth_m: 0.3, water: 20, ground: 100 },
    { depth_m: 3, water: 25, ground: 50 },
    { depth_m: 1, water: 50, ground: 20 },
  ];
  for (const layer of waters) {
    it(`read what images give under ${layer.depth_m} m of ${layer.water} ohm-m`, () => {
      const water = { level_m: layer.depth_m, from_m: -Infinity, bed: [] };
      const earth = { ...even(layer.ground), water: { ...water, resistivity_ohm_m: layer.water } };
      for (const [i, value] of sectionResponse(earth, level, spreads).entries()) {
        const { a_m, b_m, m_m, n_m } = places[i]!;
        const at = (p: number, q: number) => onBed(Math.abs(p - q), layer);
        const ohm = at(a_m, m_m) - at(b_m, m_m) - at(a_m, n_m) + at(b_m, n_m);
        expectClose(value, geometricFactor(places[i]!) * ohm, { relative: 0.003 });
      }
    });
  }
});

describe("water beside a line", () => {
  const bed = [
    { x_m: COUNT - 0.3, elevation_m: 0 },
    { x_m: COUNT + 3, elevation_m: -1.5 },
    { x_m: COUNT + 10, elevation_m: -2 },
  ];
  const beside = { level_m: 0, from_m: 5, bed };

  it("of the ground's resistivity makes it a half-space again, which air in its place does not", () => {
    const filled = { ...even(40), water: { ...beside, resistivity_ohm_m: 40 } };
    for (const value of sectionResponse(filled, level, spreads)) {
      expectClose(value, 40, { relative: 0.001 });
    }
    // Water that hardly conducts: the bank of the river is felt at the line's end.
    const empty = { ...even(40), water: { ...beside, resistivity_ohm_m: 4e9 } };
    const away = sectionResponse(empty, level, spreads).map((value) => Math.abs(value / 40 - 1));
    expect(Math.max(...away)).toBeGreaterThan(0.02);
  });

  it("scales with the ground and is reciprocal", () => {
    const under = electrodesAt(COUNT, (x) => Math.min(0, (8 - x) / 3));
    const earth = (unit: number) => ({
      x_m: [0, 6, COUNT],
      depth_m: [0, 1, 5],
      resistivity_ohm_m: [
        [60 * unit, 20 * unit],
        [30 * unit, 90 * unit],
      ],
      water: { level_m: -0.2, from_m: 2, bed: [], resistivity_ohm_m: 25 * unit },
    });
    const exchanged = spreads.map(({ a, b, m, n }) => ({ a: m, b: n, m: a, n: b }));
    const once = sectionResponse(earth(1), under, spreads);
    const again = sectionResponse(earth(1), under, exchanged);
    const doubled = sectionResponse(earth(2), under, spreads);
    once.forEach((value, i) => {
      expectClose(again[i]!, value, { relative: 1e-9 });
      expectClose(doubled[i]!, 2 * value, { relative: 1e-9 });
    });
  });

  it("stays out of ground on the other side, and out of ground that is higher", () => {
    const dam = electrodesAt(COUNT, (x) => 2 - Math.abs(x - 5) / 2);
    const with_ = (level_m: number, from_m: number) =>
      sectionResponse(
        { ...even(40), water: { level_m, from_m, bed: [], resistivity_ohm_m: 10 } },
        dam,
        spreads,
      );
    const dry = sectionResponse(even(40), dam, spreads);
    expect(with_(-3, 5)).toEqual(dry);
    // Both feet lie under the level; the left one is the landside's.
    const one = with_(0, 5);
    const both = with_(0, -Infinity);
    const isLeft = (i: number) => Object.values(places[i]!).every((at) => at < 5);
    const moved = (values: readonly number[], i: number) => Math.abs(values[i]! / dry[i]! - 1);
    for (const i of spreads.keys()) if (isLeft(i)) expect(moved(one, i)).toBeLessThan(0.01);
    expect(Math.max(...spreads.map((_, i) => (isLeft(i) ? moved(both, i) : 0)))).toBeGreaterThan(
      0.3,
    );
  });

  it("leaves the answers to the cells what central differences are", async () => {
    const under = electrodesAt(COUNT, (x) => Math.min(0, (8 - x) / 3));
    const cells = sectionCells(
      under.map(({ x_m }) => x_m),
      { columnsPerSpacing: 1, depth_m: 3 },
    );
    const water = { level_m: -0.2, from_m: 2, bed: [], resistivity_ohm_m: 25 };
    const fineness = { cellsPerSpacing: 2.5, wavenumberStep: 0.9, water };
    const model = sectionModel(cells, under, fineness);
    const turn = async () => {};
    const factor_m = Float64Array.from(spreads, (spread) =>
      geometricFactor(positionsOf(spread, under)),
    );
    const at = async (values: Float64Array, withSensitivities: boolean) =>
      predictedOf(
        { spreads, factor_m },
        await electrodePotentialsOf(model, values, { withSensitivities, turn }),
      );
    const ground = Float64Array.from(model.patches, (_, c) => 50 * Math.exp(Math.sin(2.3 * c)));
    const { jacobian } = await at(ground, true);
    const largest = jacobian!.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    for (const cell of [3, ground.length - 40, ground.length - 3]) {
      const moved = (by: number) =>
        at(
          ground.map((value, c) => (c === cell ? value * Math.exp(by) : value)),
          false,
        );
      const [up, down] = [await moved(1e-3), await moved(-1e-3)];
      for (const n of spreads.keys()) {
        const slope = (up.logApparent[n]! - down.logApparent[n]!) / 2e-3;
        // The differences' own error is of the order of 1e-6 squared steps.
        const answer = jacobian![cell * spreads.length + n]!;
        expectClose(answer, slope, { absolute: 1e-5 * largest });
      }
    }
  });

  it("is refused where it is not one, every fault by name", () => {
    const bad = { level_m: Number.NaN, from_m: Number.NaN, resistivity_ohm_m: 0 };
    const points = [{ x_m: 1, elevation_m: Number.NaN }];
    const asked = (water: object) =>
      faultsOf(() =>
        sectionResponse({ ...even(40), water: water as never }, level, spreads.slice(0, 1)),
      );
    expect(asked({ ...bad, bed: points })).toEqual([
      "not-finite earth.water.level_m must be a finite number, got NaN",
      "not-a-number earth.water.from_m must be a number, got NaN",
      "not-positive earth.water.resistivity_ohm_m must be a finite number above 0, got 0",
      "not-finite earth.water.bed[0].elevation_m must be a finite number, got NaN",
    ]);
    expect(asked({ ...beside, resistivity_ohm_m: 20, bed: null })).toEqual([
      "not-a-list earth.water.bed must be a list of points, empty where nothing is known, got null",
    ]);
  });
});

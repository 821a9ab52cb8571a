import { describe, expect, it } from "vitest";
import { type Corner, outlineThrough } from "../../lib/earth/embankment/outline.js";
import { spreadResponse } from "../../lib/earth/spread-response.js";
import {
  positionsOf,
  type SectionEarth,
  type SectionElectrode,
  type SectionSpread,
} from "../../lib/sections/section-input.js";
import { sectionResponse } from "../../lib/sections/section-response.js";
import { secondaryAt, surfaceField } from "../../lib/sections/surface-field.js";
import { wavenumbers } from "../../lib/sections/wavenumbers.js";
import { StepError } from "../../lib/step/step-error.js";
import { expectClose } from "../support/expect-close.js";

const onFlat = (positions: readonly number[], elevation_m = 0): SectionElectrode[] =>
  positions.map((x_m) => ({ x_m, elevation_m }));

const count = (n: number, first = 0) => Array.from({ length: n }, (_, i) => first + i);

const WENNER: SectionSpread = { a: 1, m: 2, n: 3, b: 4 };

function layered(resistivity: readonly number[], thickness: readonly number[]): SectionEarth {
  const depth_m = [0];
  for (const t of [...thickness, 1]) depth_m.push(depth_m.at(-1)! + t);
  return { x_m: [0, 1], depth_m, resistivity_ohm_m: resistivity.map((rho) => [rho]) };
}

/**
 * Wenner over the line, dipole-dipole, Schlumberger, pole-dipole and pole-pole on 16 electrodes.
 */
const MIXED: readonly SectionSpread[] = [
  { a: 1, m: 2, n: 3, b: 4 },
  { a: 1, m: 6, n: 11, b: 16 },
  { a: 1, m: 8, n: 9, b: 16 },
  { a: 2, b: 1, m: 3, n: 4 },
  { a: 2, b: 1, m: 7, n: 8 },
  { a: 5, b: 0, m: 6, n: 7 },
  { a: 1, b: 0, m: 15, n: 16 },
  { a: 3, b: 0, m: 14, n: 0 },
];

describe("sectionResponse over flat ground", () => {
  it("gives a homogeneous earth's own resistivity, at any elevation, in any units of length", () => {
    const earth = { x_m: [3, 9], depth_m: [0, 1, 2], resistivity_ohm_m: [[42], [42]] };
    const electrodes = onFlat(
      count(16).map((i) => 1000 * i),
      12,
    );
    // The same sums on the same grid twice: rounding only.
    for (const value of sectionResponse(earth, electrodes, MIXED)) {
      expectClose(value, 42, { relative: 1e-9 });
    }
  });

  it.each([
    [
      [725, 16, 969],
      [1.4, 4.8],
    ],
    [
      [14, 22, 858],
      [7, 2.1],
    ],
    [
      [439, 889, 16],
      [1.6, 2.8],
    ],
    [
      [27, 73, 55],
      [1, 2.9],
    ],
  ])("agrees with the layered earth's response for %j ohm-m, %j m thick", (rho, thickness) => {
    const electrodes = onFlat(count(16).map((i) => 2 * i));
    const values = sectionResponse(layered(rho, thickness), electrodes, MIXED);
    const earth = { resistivity_ohm_m: rho, thickness_m: thickness };
    for (const [i, value] of values.entries()) {
      // Measured: 0.5 % at worst (dipole-dipole over a fifty-fold contrast), mostly below 0.1 %.
      const exact = spreadResponse(earth, positionsOf(MIXED[i]!, electrodes));
      expectClose(value, exact, { relative: 0.007 });
    }
  });

  // Two layers, Wenner, by numerical integration of the kernel of Koefoed 1979: ρ_a/ρ_1 for
  // ρ_2/ρ_1.
  it.each([
    [0.1, [0.944067, 0.733905, 0.338673, 0.128603, 0.10187]],
    [10, [1.072419, 1.380335, 2.25295, 3.742144, 6.302671]],
  ])("agrees with the two-layer table for a contrast of %f", (contrast, table) => {
    for (const [i, ratio] of [0.5, 1, 2, 4, 10].entries()) {
      const earth = layered([1, contrast], [1 / ratio]);
      const at = (cellsPerSpacing: number) =>
        sectionResponse(earth, onFlat([0, 1, 2, 3]), [WENNER], { cellsPerSpacing })[0]!;
      // Measured: 0.64 % and 0.09 % at worst, both where ρ_a is an eighth of what is at the
      // surface.
      expectClose(at(3), table[i]!, { relative: 0.01 });
      expectClose(at(4), table[i]!, { relative: 0.0015 });
    }
  });

  // Vertical contact by images (Keller & Frischknecht 1966), ρ_2/ρ_1 = 10, array centre at x.
  it.each([
    [-3, 1.026299],
    [-1, 1.340909],
    [-0.25, 4.054545],
    [0.25, 6.454545],
    [1, 6.590909],
    [2, 8.909091],
    [5, 9.948347],
  ])("agrees with images beside a vertical contact, centre %f spacings away", (x, exact) => {
    const earth = { x_m: [-9, 0, 9], depth_m: [0, 1], resistivity_ohm_m: [[1, 10]] };
    const electrodes = onFlat([-1.5, -0.5, 0.5, 1.5].map((along) => along + x));
    // Measured: 0.05 % at worst.
    expectClose(sectionResponse(earth, electrodes, [WENNER])[0]!, exact, { relative: 0.002 });
  });
});

const PATCHY: SectionEarth = {
  x_m: [-9, 4.5, 8, 60],
  depth_m: [0, 0.5, 1.5, 4, 9],
  resistivity_ohm_m: [
    [10, 100, 30],
    [40, 20, 50],
    [100, 10, 300],
    [50, 70, 20],
  ],
};

describe("sectionResponse over uneven ground", () => {
  const hilly = count(16).map((i) => ({ x_m: i, elevation_m: 2 * Math.sin(i / 2) }));

  it("does not change where current and potential electrodes change places", () => {
    const swapped = MIXED.map(({ a, b, m, n }) => ({ a: m, b: n, m: a, n: b }));
    const [forward, back] = [MIXED, swapped].map((list) => sectionResponse(PATCHY, hilly, list));
    for (const [i, value] of forward!.entries()) expectClose(back![i]!, value, { relative: 1e-8 });
  });

  it("does not change where the line is shifted, lifted, turned round or listed in another order", () => {
    const values = sectionResponse(PATCHY, hilly, MIXED);
    const shifted = sectionResponse(
      { ...PATCHY, x_m: PATCHY.x_m.map((x) => x + 500) },
      hilly.map(({ x_m, elevation_m }) => ({ x_m: x_m + 500, elevation_m: elevation_m + 40 })),
      MIXED,
    );
    const turned = sectionResponse(
      {
        ...PATCHY,
        x_m: PATCHY.x_m.map((x) => 15 - x).reverse(),
        resistivity_ohm_m: PATCHY.resistivity_ohm_m.map((row) => [...row].reverse()),
      },
      hilly.map(({ x_m, elevation_m }) => ({ x_m: 15 - x_m, elevation_m })),
      MIXED,
    );
    for (const [i, value] of values.entries()) {
      // Rounding of positions, and the grid's integration steps taken from the other side.
      expectClose(shifted[i]!, value, { relative: 1e-6 });
      expectClose(turned[i]!, value, { relative: 1e-3 });
    }
  });

  it("scales with all resistivities", () => {
    const tenfold = PATCHY.resistivity_ohm_m.map((row) => row.map((rho) => 10 * rho));
    const values = sectionResponse(PATCHY, hilly, MIXED);
    const scaled = sectionResponse({ ...PATCHY, resistivity_ohm_m: tenfold }, hilly, MIXED);
    for (const [i, value] of values.entries())
      expectClose(scaled[i]!, 10 * value, { relative: 1e-9 });
  });

  it("settles as the grid gets finer", () => {
    const [usual, fine] = [3, 5].map((cellsPerSpacing) =>
      sectionResponse(PATCHY, hilly, MIXED, { cellsPerSpacing }),
    );
    // Measured: below 0.5 %, with a thirty-fold contrast half a spacing below electrodes on slopes.
    for (const [i, value] of usual!.entries()) expectClose(value, fine![i]!, { relative: 0.01 });
  });

  it("changes nothing it was given", () => {
    const frozenEarth = Object.freeze({ ...PATCHY, x_m: Object.freeze([...PATCHY.x_m]) });
    const electrodes = Object.freeze(
      hilly.slice(0, 4).map((electrode) => Object.freeze(electrode)),
    );
    expect(() => sectionResponse(frozenEarth, electrodes, Object.freeze([WENNER]))).not.toThrow();
  });
});

describe("sectionResponse across a homogeneous embankment", () => {
  const corners: readonly Corner[] = [
    { x: -10, z: -4 },
    { x: -2, z: 0 },
    { x: 2, z: 0 },
    { x: 10, z: -4 },
  ];
  const surface = (x: number): Corner => ({ x, z: Math.max(-4, Math.min(0, 1 - Math.abs(x) / 2)) });
  const electrodes = count(29, -14).map((x) => ({ x_m: x, elevation_m: surface(x).z }));

  /** Potential by the boundary integral of the embankment factor: no grid, another method. */
  function potential(source: number, at: number): number {
    const [s, t] = [surface(source), surface(at)];
    const outline = outlineThrough(
      [...corners, s].sort((p, q) => p.x - q.x),
      { smallest: 0.03 },
    );
    const { k_per_m, weight } = wavenumbers({ nearest_m: 1, farthest_m: 90, step: 0.7 });
    const sum = k_per_m.reduce(
      (total, k, i) => total + weight[i]! * secondaryAt(surfaceField(outline, s, k), t),
      0,
    );
    return 1 / Math.hypot(s.x - t.x, s.z - t.z) + (2 / Math.PI) * sum;
  }

  // Positions of A, B, M, N away from the corners, where the integral wants its source.
  it.each([
    [0, 4, 1, -1],
    [-13, 5, -7, -1],
    [-12, 12, -4, 4],
    [5, 11, 7, 9],
  ])("agrees with the boundary integral for A %f, B %f, M %f, N %f", (a, b, m, n) => {
    const earth = { x_m: [0, 1], depth_m: [0, 1], resistivity_ohm_m: [[1]] };
    const number = (x: number) => x + 15;
    const spread = { a: number(a), b: number(b), m: number(m), n: number(n) };
    const value = sectionResponse(earth, electrodes, [spread])[0]!;
    const near = (p: number, q: number) => 1 / Math.abs(p - q);
    const factor = 1 / (near(a, m) - near(b, m) - near(a, n) + near(b, n));
    const exact = factor * (potential(a, m) - potential(b, m) - potential(a, n) + potential(b, n));
    // Measured: 0.02 %, with topographic effects of 6 to 42 %.
    expectClose(value, exact, { relative: 0.001 });
  });
});

describe("sectionResponse refuses", () => {
  const earth: SectionEarth = { x_m: [0, 1], depth_m: [0, 1], resistivity_ohm_m: [[1]] };
  const four = onFlat([0, 1, 2, 3]);

  it.each([
    ["edges that do not ascend", { ...earth, x_m: [1, 1] }, "not-ascending earth.x_m[1]"],
    ["a single edge", { ...earth, depth_m: [0] }, "not-ascending earth.depth_m"],
    ["a depth above the surface", { ...earth, depth_m: [-1, 1] }, "negative earth.depth_m[0]"],
    ["NaN among edges", { ...earth, x_m: [0, Number.NaN] }, "not-finite earth.x_m[1]"],
    [
      "rows that are too short",
      { x_m: [0, 1, 2], depth_m: [0, 1], resistivity_ohm_m: [[1]] },
      "cell-count earth.resistivity_ohm_m",
    ],
    [
      "a resistivity of 0",
      { ...earth, resistivity_ohm_m: [[0]] },
      "not-positive earth.resistivity_ohm_m[0][0]",
    ],
  ])("%s", (_, bad, fault) => {
    expect(faultsOf(() => sectionResponse(bad, four, [WENNER]))).toContain(fault);
  });

  it.each([
    ["a number beyond the line", { ...WENNER, b: 5 }, "no-such-electrode spreads[0].b"],
    ["a number that is not whole", { ...WENNER, m: 1.5 }, "no-such-electrode spreads[0].m"],
    [
      "current and potential at one electrode",
      { ...WENNER, m: 1 },
      "electrodes-coincide spreads[0]",
    ],
    ["a spread without signal", { a: 2, b: 0, m: 1, n: 3 }, "no-signal spreads[0]"],
    ["nothing but remote electrodes", { a: 0, b: 0, m: 0, n: 0 }, "no-signal spreads[0]"],
  ])("%s", (_, spread, fault) => {
    expect(faultsOf(() => sectionResponse(earth, four, [spread]))).toEqual([fault]);
  });

  it("all faults at once, like ones as one", () => {
    const electrodes = [...onFlat([0, 1, 1]), { x_m: 2, elevation_m: Number.NaN }];
    const spreads = [{ ...WENNER, a: 9 }, { ...WENNER, a: -1 }, WENNER];
    const call = () =>
      sectionResponse(earth, electrodes, spreads, {
        cellsPerSpacing: 1,
        wavenumberStep: Number.NaN,
      });
    expect(faultsOf(call)).toEqual([
      "option-range options.cellsPerSpacing",
      "option-range options.wavenumberStep",
      "electrodes-coincide electrodes[2].x_m",
      "not-finite electrodes[3].elevation_m",
      "no-such-electrode spreads[0].a",
    ]);
    expect(call).toThrow(
      "options.cellsPerSpacing must be a number at least 3 and at most 12, got 1",
    );
    expect(call).toThrow(
      "spreads[0].a must be an electrode's number, 1 to 4, or 0 for a remote one, got 9 (and 1 more like it)",
    );
    expect(faultsOf(() => sectionResponse(earth, [], []))).toEqual(["electrode-count electrodes"]);
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

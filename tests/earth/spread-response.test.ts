import { describe, expect, it } from "vitest";
import { geometricFactor, type Spread } from "../../lib/earth/spread.js";
import { spreadResponse } from "../../lib/earth/spread-response.js";
import { StepError } from "../../lib/step/step-error.js";
import { expectClose } from "../support/expect-close.js";

const wenner = (a: number): Spread => ({ a_m: 0, m_m: a, n_m: 2 * a, b_m: 3 * a });
/** Potential electrodes so close together that the Schlumberger limit holds to 1e-8. */
const schlumberger = (half: number): Spread => ({
  a_m: -half,
  b_m: half,
  m_m: -1e-4 * half,
  n_m: 1e-4 * half,
});

const SPREADS: readonly Spread[] = [
  wenner(1),
  { a_m: 0, b_m: 1, m_m: 7, n_m: 8 },
  { a_m: 0, b_m: Infinity, m_m: 4, n_m: 5 },
  { a_m: Infinity, b_m: 0, m_m: 4, n_m: Infinity },
  { a_m: 0, b_m: -Infinity, m_m: Infinity, n_m: 4 },
  { a_m: 0, b_m: 100, m_m: 45, n_m: 55 },
];

/** The apparent resistivity over two layers by the series of image sources. */
function byImages([upper, lower]: [number, number], thickness_m: number, spread: Spread): number {
  const k = (lower - upper) / (lower + upper);
  const potential = (from: number, to: number) => {
    const r = Math.abs(from - to);
    if (!(r < Infinity)) return 0;
    let sum = 1 / r;
    for (let n = 1, power = k; Math.abs(power) > 1e-16; n++, power *= k) {
      sum += (2 * power) / Math.hypot(r, 2 * n * thickness_m);
    }
    return (upper * sum) / (2 * Math.PI);
  };
  const { a_m: a, b_m: b, m_m: m, n_m: n } = spread;
  const difference = potential(a, m) - potential(b, m) - potential(a, n) + potential(b, n);
  return geometricFactor(spread) * difference;
}

describe("spreadResponse", () => {
  it("is the resistivity itself over a half-space, for every kind of spread", () => {
    const earth = { resistivity_ohm_m: [42], thickness_m: [] };
    for (const spread of SPREADS) expect(spreadResponse(earth, spread)).toBe(42);
    const split = { resistivity_ohm_m: [42, 42], thickness_m: [3] };
    for (const spread of SPREADS)
      expectClose(spreadResponse(split, spread), 42, { relative: 1e-14 });
  });

  it("gives the tabulated two-layer values", () => {
    // Methods, section 4 (calc, image series); 6 decimals. Spacing over thickness 0.5 1 2 4 10.
    const table: [number, (a: number) => Spread, number[]][] = [
      [0.1, wenner, [0.944067, 0.733905, 0.338673, 0.128603, 0.10187]],
      [0.1, schlumberger, [0.978737, 0.869089, 0.515589, 0.170528, 0.103362]],
      [10, wenner, [1.072419, 1.380335, 2.25295, 3.742144, 6.302671]],
      [10, schlumberger, [1.026933, 1.173529, 1.757248, 2.992846, 5.414034]],
    ];
    for (const [ratio, spread, values] of table) {
      for (const [i, a] of [0.5, 1, 2, 4, 10].entries()) {
        const earth = { resistivity_ohm_m: [1, ratio], thickness_m: [1] };
        expectClose(spreadResponse(earth, spread(a)), values[i]!, { absolute: 6e-7 });
      }
    }
  });

  it("gives the tabulated three-layer values", () => {
    // Methods, section 4 (calc); 6 digits. Thickness 2 and 5 m, Wenner a = 1 2 5 10 20 50.
    const table: [number[], number[]][] = [
      [
        [100, 10, 100],
        [94.4438, 73.6693, 26.7756, 22.6764, 36.5416, 61.9607],
      ],
      [
        [250, 50, 10],
        [238.306, 193.716, 78.3727, 29.8046, 13.1445, 10.2449],
      ],
    ];
    for (const [resistivity_ohm_m, values] of table) {
      for (const [i, a] of [1, 2, 5, 10, 20, 50].entries()) {
        const earth = { resistivity_ohm_m, thickness_m: [2, 5] };
        expectClose(spreadResponse(earth, wenner(a)), values[i]!, { relative: 4e-6 });
      }
    }
  });

  it("agrees with the image series to 1e-8 for contrasts up to 1000 and any electrode remote", () => {
    for (const ratio of [1e-3, 0.1, 3, 1000]) {
      for (const thickness_m of [0.05, 0.5, 3, 50]) {
        const earth = { resistivity_ohm_m: [100, 100 * ratio], thickness_m: [thickness_m] };
        for (const spread of SPREADS) {
          const images = byImages([100, 100 * ratio], thickness_m, spread);
          expectClose(spreadResponse(earth, spread), images, { relative: 1e-8 });
        }
      }
    }
  });

  it("does not change when current and potential electrodes are exchanged", () => {
    const earth = { resistivity_ohm_m: [30, 300, 8], thickness_m: [1, 4] };
    for (const spread of SPREADS) {
      const { a_m, b_m, m_m, n_m } = spread;
      const exchanged = { a_m: m_m, b_m: n_m, m_m: a_m, n_m: b_m };
      const turned = { a_m: -a_m, b_m: -b_m, m_m: -m_m, n_m: -n_m };
      const here = spreadResponse(earth, spread);
      expectClose(spreadResponse(earth, exchanged), here, { relative: 1e-12 });
      expectClose(spreadResponse(earth, turned), here, { relative: 1e-12 });
    }
  });

  it("keeps its scale: resistivities in proportion, lengths all alike", () => {
    const earth = { resistivity_ohm_m: [30, 300, 8], thickness_m: [1, 4] };
    const tenfold = { resistivity_ohm_m: [300, 3000, 80], thickness_m: [7, 28] };
    const here = spreadResponse(earth, wenner(2));
    expectClose(spreadResponse(tenfold, wenner(14)), 10 * here, { relative: 1e-12 });
  });
});

describe("geometricFactor", () => {
  it("gives the factors of the usual arrays", () => {
    // Telford, Geldart & Sheriff 1990: Wenner 2πa, pole–pole 2πa, dipole–dipole πn(n+1)(n+2)a.
    expectClose(geometricFactor(wenner(3)), 6 * Math.PI, { relative: 1e-14 });
    const polePole = { a_m: 0, b_m: Infinity, m_m: 3, n_m: Infinity };
    expectClose(geometricFactor(polePole), 6 * Math.PI, { relative: 1e-14 });
    const dipoles = { a_m: 1, b_m: 0, m_m: 5, n_m: 6 };
    expectClose(geometricFactor(dipoles), Math.PI * 4 * 5 * 6, { relative: 1e-13 });
  });
});

describe("spreadResponse and bad input", () => {
  const earth = { resistivity_ohm_m: [100], thickness_m: [] };
  const faultsOf = (call: () => unknown) => {
    try {
      call();
    } catch (error) {
      if (error instanceof StepError)
        return error.faults.map((fault) => `${fault.code} ${fault.path}`);
    }
    return [];
  };

  it("names every fault at once", () => {
    const bad = { resistivity_ohm_m: [100, 0], thickness_m: [1, 2] };
    const spread = { ...wenner(1), m_m: Number.NaN, n_m: "2" as unknown as number };
    expect(faultsOf(() => spreadResponse(bad, spread))).toEqual([
      "not-positive earth.resistivity_ohm_m[1]",
      "layer-count earth.thickness_m",
      "not-a-position spread.m_m",
      "not-a-position spread.n_m",
    ]);
  });

  it("refuses electrodes that coincide and spreads that measure nothing", () => {
    const touching = { a_m: 0, m_m: 0, n_m: 1, b_m: 2 };
    expect(faultsOf(() => spreadResponse(earth, touching))).toEqual(["electrodes-coincide spread"]);
    const nothing: Spread[] = [
      { a_m: 0, b_m: 0, m_m: 1, n_m: 2 },
      { a_m: 0, b_m: 2, m_m: 1, n_m: 1 },
      { a_m: Infinity, b_m: Infinity, m_m: 1, n_m: 2 },
      { a_m: 0, b_m: 10, m_m: 5, n_m: Infinity },
    ];
    for (const spread of nothing) {
      expect(faultsOf(() => spreadResponse(earth, spread))).toEqual(["no-signal spread"]);
    }
  });
});

import { describe, expect, it } from "vitest";
import { type CoilReading, type Coils, coilResponse } from "../../lib/earth/coil-response.js";
import { coilSensitivity } from "../../lib/earth/coil-sensitivity.js";
import { lowInductionQuadrature } from "../../lib/earth/half-space.js";
import { seededRandom } from "../../lib/numerics/random.js";
import { StepError } from "../../lib/step/step-error.js";
import { expectClose } from "../support/expect-close.js";

const ORIENTATIONS = ["HCP", "VCP", "PRP"] as const;
const earth = { conductivity_S_per_m: [0.03, 0.12, 0.008], thickness_m: [0.8, 2.2] };

interface Case {
  readonly coils: Coils;
  /** The larger component of the response, ppm. */
  readonly size: number;
}

/** Heights, orientations, separations and frequencies from weak to strong induction. */
function cases(heights_m: readonly number[]): Case[] {
  return heights_m.flatMap((height_m) =>
    ORIENTATIONS.flatMap((orientation) =>
      [
        [1, 1500],
        [1.8, 60000],
        [10, 9000],
      ].map(([separation_m, frequency_Hz]) => {
        const coils = {
          orientation,
          separation_m: separation_m!,
          frequency_Hz: frequency_Hz!,
          height_m,
        };
        return { coils, size: larger(coilResponse(earth, coils)) };
      }),
    ),
  );
}

const larger = (reading: CoilReading) =>
  Math.max(Math.abs(reading.inphase_ppm), Math.abs(reading.quadrature_ppm));

/** Both components of a derivative within an absolute tolerance of a central difference. */
function expectDifference(
  derivative: CoilReading,
  at: (step: number) => CoilReading,
  { step, tolerance }: { readonly step: number; readonly tolerance: number },
): void {
  const [up, down] = [at(step), at(-step)];
  for (const part of ["inphase_ppm", "quadrature_ppm"] as const) {
    const difference = (up[part] - down[part]) / (2 * step);
    expectClose(derivative[part], difference, { absolute: tolerance });
  }
}

const changed = (list: readonly number[], at: number, to: (value: number) => number) =>
  list.map((value, i) => (i === at ? to(value) : value));

const entry = (part: { inphase_ppm: Float64Array; quadrature_ppm: Float64Array }, j: number) => ({
  inphase_ppm: part.inphase_ppm[j]!,
  quadrature_ppm: part.quadrature_ppm[j]!,
});

describe("coilSensitivity", () => {
  it("gives the response that coilResponse gives", () => {
    for (const { coils, size } of cases([0, 0.1, 0.9, 2])) {
      const here = coilSensitivity(earth, coils);
      const there = coilResponse(earth, coils);
      expectClose(here.inphase_ppm, there.inphase_ppm, { absolute: 1e-9 * size });
      expectClose(here.quadrature_ppm, there.quadrature_ppm, { absolute: 1e-9 * size });
    }
  });

  it("gives the derivatives to conductivity and thickness that differences give", () => {
    for (const { coils, size } of cases([0, 0.1, 0.9, 2])) {
      const { byLnConductivity, byThickness_per_m } = coilSensitivity(earth, coils);
      // Central differences: step² of the third derivative over 6 and 1e-11 of rounding over the
      // step.
      const rule = { step: 1e-3, tolerance: 1e-6 * size };
      for (const j of [0, 1, 2]) {
        const sigma = earth.conductivity_S_per_m;
        const at = (step: number) => {
          const conductivity_S_per_m = changed(sigma, j, (v) => v * Math.exp(step));
          return coilResponse({ ...earth, conductivity_S_per_m }, coils);
        };
        expectDifference(entry(byLnConductivity, j), at, rule);
      }
      for (const j of [0, 1]) {
        const at = (step: number) =>
          coilResponse(
            { ...earth, thickness_m: changed(earth.thickness_m, j, (v) => v + step) },
            coils,
          );
        expectDifference(entry(byThickness_per_m, j), at, rule);
      }
    }
  });

  it("gives the derivative to height that differences give, and on the ground from above", () => {
    for (const { coils, size } of cases([0.1, 0.9, 2])) {
      const at = (step: number) =>
        coilResponse(earth, { ...coils, height_m: coils.height_m + step });
      // At 0.1 m the third derivative is of the order of 50 responses per m³: 1e-5 with this step.
      const rule = { step: 1e-3, tolerance: 2e-5 * size };
      expectDifference(coilSensitivity(earth, coils).byHeight_per_m, at, rule);
    }
    for (const { coils, size } of cases([0])) {
      const at = (height_m: number) => coilResponse(earth, { ...coils, height_m });
      const [here, near, far] = [at(0), at(1e-3), at(2e-3)];
      for (const part of ["inphase_ppm", "quadrature_ppm"] as const) {
        const slope = (4 * near[part] - 3 * here[part] - far[part]) / 2e-3;
        const { byHeight_per_m } = coilSensitivity(earth, coils);
        // One-sided: step² of the third derivative over 3.
        expectClose(byHeight_per_m[part], slope, { absolute: 5e-5 * size });
      }
    }
  });

  it("gives the ground under an insulating top layer the same slope as the coils over it", () => {
    // Air is an insulator: a metre more of it between coils and ground is a metre of height.
    const raised = { conductivity_S_per_m: [0, 0.05, 0.01], thickness_m: [0.5, 2] };
    for (const { coils, size } of cases([0.3, 1])) {
      const { byThickness_per_m, byHeight_per_m, byLnConductivity } = coilSensitivity(
        raised,
        coils,
      );
      for (const part of ["inphase_ppm", "quadrature_ppm"] as const) {
        expectClose(byThickness_per_m[part][0]!, byHeight_per_m[part], { absolute: 1e-9 * size });
        expect(Math.abs(byLnConductivity[part][0]!)).toBe(0);
      }
    }
  });

  it("adds up over all layers to the derivative to ln frequency", () => {
    // Only the product of conductivity and frequency counts.
    for (const { coils, size } of cases([0, 0.9])) {
      const { byLnConductivity } = coilSensitivity(earth, coils);
      const sum = (part: Float64Array) => part.reduce((total, value) => total + value, 0);
      const whole = {
        inphase_ppm: sum(byLnConductivity.inphase_ppm),
        quadrature_ppm: sum(byLnConductivity.quadrature_ppm),
      };
      const at = (step: number) =>
        coilResponse(earth, { ...coils, frequency_Hz: coils.frequency_Hz * Math.exp(step) });
      expectDifference(whole, at, { step: 1e-3, tolerance: 1e-6 * size });
    }
  });

  it("keeps every derivative when all lengths double and conductivities go to a quarter", () => {
    const wide = { conductivity_S_per_m: [0.0075, 0.03, 0.002], thickness_m: [1.6, 4.4] };
    for (const { coils, size } of cases([0.4])) {
      const small = coilSensitivity(earth, coils);
      const large = coilSensitivity(wide, {
        ...coils,
        separation_m: 2 * coils.separation_m,
        height_m: 0.8,
      });
      const absolute = 1e-12 * size;
      for (const part of ["inphase_ppm", "quadrature_ppm"] as const) {
        for (const j of [0, 1, 2]) {
          const there = small.byLnConductivity[part][j]!;
          expectClose(large.byLnConductivity[part][j]!, there, { absolute });
        }
        const per_m = small.byThickness_per_m[part][1]!;
        expectClose(2 * large.byThickness_per_m[part][1]!, per_m, { absolute });
        expectClose(2 * large.byHeight_per_m[part], small.byHeight_per_m[part], { absolute });
      }
    }
  });

  it("makes a field without curl in air, which is what reciprocity of the coils asks", () => {
    // The vertical field of a horizontal dipole is the horizontal one of a vertical dipole, and
    // both derive from one potential: ∂VCP/∂h = −(2/s) PRP and ∂(PRP/s³)/∂h = 2 ∂(HCP/s³)/∂s.
    for (const { coils, size } of cases([0.1, 0.9, 2]).filter(
      (one) => one.coils.orientation === "PRP",
    )) {
      const { separation_m: s } = coils;
      const prp = coilSensitivity(earth, coils);
      const vcp = coilSensitivity(earth, { ...coils, orientation: "VCP" });
      const hcpAt = (separation_m: number) =>
        coilResponse(earth, { ...coils, separation_m, orientation: "HCP" });
      const step = 1e-3 * s;
      for (const part of ["inphase_ppm", "quadrature_ppm"] as const) {
        expectClose(vcp.byHeight_per_m[part], (-2 / s) * prp[part], {
          absolute: (1e-7 * size) / s,
        });
        const bySeparation =
          (hcpAt(s + step)[part] / (s + step) ** 3 - hcpAt(s - step)[part] / (s - step) ** 3) /
          (2 * step);
        // The quadrature and its difference quotient, 1e-6 of the response each.
        const absolute = (2e-5 * larger(hcpAt(s))) / s;
        expectClose(prp.byHeight_per_m[part], 2 * s ** 3 * bySeparation, { absolute });
      }
    }
  });

  it("gives the published cumulative responses where induction is weak", () => {
    // McNeill 1980 (methods, section 2): share of the response from below 0.5 and 1 separations.
    const published = [
      ["HCP", 0.5, Math.SQRT1_2],
      ["HCP", 1, 0.447214],
      ["VCP", 0.5, 0.414214],
      ["VCP", 1, 0.236068],
    ] as const;
    for (const [orientation, depths, share] of published) {
      const coils = { orientation, separation_m: 2, frequency_Hz: 100, height_m: 0 };
      const low = lowInductionQuadrature(1e-5, coils);
      const even = { conductivity_S_per_m: [1e-5, 1e-5], thickness_m: [2 * depths] };
      const below = coilSensitivity(even, coils).byLnConductivity.quadrature_ppm[1]!;
      // The next term is of the order of the induction number, 1.3e-4.
      expectClose(below / low, share, { absolute: 3e-4 });
      const raised = coilSensitivity(
        { conductivity_S_per_m: [1e-5], thickness_m: [] },
        { ...coils, height_m: 2 * depths },
      );
      expectClose(raised.quadrature_ppm / low, share, { absolute: 3e-4 });
    }
  });

  it("keeps its digits through hundreds of layers of wild contrast, insulators among them", () => {
    for (const [seed, layers] of [
      [1, 30],
      [2, 120],
      [3, 400],
    ] as const) {
      const random = seededRandom(seed);
      const wild = {
        conductivity_S_per_m: Array.from({ length: layers }, () =>
          random.uniform() < 0.05 ? 0 : 10 ** (8 * random.uniform() - 6),
        ),
        thickness_m: Array.from({ length: layers - 1 }, () => 10 ** (3 * random.uniform() - 3)),
      };
      for (const { coils } of cases([0, 0.9])) {
        const here = coilSensitivity(wild, coils);
        const there = coilResponse(wild, coils);
        // The power series of the two roads reach 5e-10 a layer.
        const absolute = 1e-7 * larger(there);
        expectClose(here.inphase_ppm, there.inphase_ppm, { absolute });
        expectClose(here.quadrature_ppm, there.quadrature_ppm, { absolute });
        const { byLnConductivity, byThickness_per_m } = here;
        for (const values of [
          ...Object.values(byLnConductivity),
          ...Object.values(byThickness_per_m),
        ]) {
          expect(values.every(Number.isFinite)).toBe(true);
        }
      }
    }
  });

  it("names every fault at once, and leaves frozen input alone", () => {
    const bad = { conductivity_S_per_m: [0.1, -1], thickness_m: [] };
    const call = () => coilSensitivity(bad, { ...cases([0])[0]!.coils, height_m: Number.NaN });
    expect(call).toThrow(StepError);
    expect(call).toThrow("coilSensitivity: earth.conductivity_S_per_m[1] must be");
    expect(call).toThrow("coils.height_m");
    const frozen = Object.freeze({
      conductivity_S_per_m: Object.freeze([0.1, 0.2]),
      thickness_m: Object.freeze([1]),
    });
    const coils = Object.freeze(cases([0])[0]!.coils);
    expect(coilSensitivity(frozen, coils).quadrature_ppm).toBeGreaterThan(0);
  });
});

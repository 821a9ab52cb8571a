import { firstOf } from "../numerics/arrays.js";
import { StepError } from "../numerics/step-error.js";
import { type KernelPart, sharedPointsKernel } from "./coil-kernel.js";
import { FINE_SAMPLING } from "./coil-quadrature.js";
import {
  type CoilReading,
  type Coils,
  type ConductiveEarth,
  coilFaults,
  earthFaults,
} from "./coil-response.js";

/** A response and how it changes with everything that it depends on. */
export interface CoilSensitivity extends CoilReading {
  /** Derivatives by each layer's ln conductivity, m values, ppm: 1 % more adds 0.01 of it. */
  readonly byLnConductivity: KernelPart;
  /** Change for each thickness, what lies below moving down with it, m − 1 values, ppm per m. */
  readonly byThickness_per_m: KernelPart;
  /** Change for the height of both coils, ppm per m. */
  readonly byHeight_per_m: CoilReading;
}

/**
 * `coilResponse` with its analytic derivatives to the ln conductivity of each layer, to each
 * thickness and to the height of the coils, all from one pass down and up the layers.
 *
 * With r the reflection coefficient of the layers: ∂r/∂ ln σ_j and ∂r/∂t_j by the chain rule along
 * its recursion, and a factor of −2λ under the integral for the height.
 *
 * `earth` and `coils` as for `coilResponse`. A layer of zero conductivity has a derivative of 0 to
 * its ln conductivity. Error below 1e-6 of the larger component of the response. Nothing may be
 * missing. Throws StepError with every fault.
 *
 * Source: Wait 1982, Geo-electromagnetism; Ward & Hohmann 1988; derivatives worked out here.
 *
 * @example
 * coilSensitivity(
 *   { conductivity_S_per_m: [0.1], thickness_m: [] },
 *   { orientation: "HCP", separation_m: 1, frequency_Hz: 10000, height_m: 0 },
 * ).byHeight_per_m.quadrature_ppm; // 12.169
 */
export function coilSensitivity(earth: ConductiveEarth, coils: Coils): CoilSensitivity {
  const faults = [...earthFaults(earth), ...coilFaults(coils)];
  if (faults.length > 0) throw new StepError("coilSensitivity", faults);
  const { thickness_m, conductivity_S_per_m } = earth;
  const setup = { thickness_m, height_m: coils.height_m, channels: [coils] };
  const kernel = sharedPointsKernel(setup, FINE_SAMPLING);
  const out = kernel.output({ byThickness: true, byHeight: true });
  kernel.evaluate(Float64Array.from(conductivity_S_per_m, Math.log), out);
  return {
    inphase_ppm: firstOf(out.inphase_ppm),
    quadrature_ppm: firstOf(out.quadrature_ppm),
    byLnConductivity: out.jacobian,
    byThickness_per_m: out.byThickness,
    byHeight_per_m: {
      inphase_ppm: firstOf(out.byHeight.inphase_ppm),
      quadrature_ppm: firstOf(out.byHeight.quadrature_ppm),
    },
  };
}

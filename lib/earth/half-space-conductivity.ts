import { StepError } from "../numerics/step-error.js";
import { coilWeights, FINE_SAMPLING, wavenumbers } from "./coil-quadrature.js";
import { MU_0, reflection } from "./coil-reflection.js";
import { type Coils, coilFaults } from "./coil-response.js";

export interface HalfSpaceConductivity {
  /** S/m; NaN where there is none. */
  readonly conductivity_S_per_m: number;
  /** Why there is none: the response is 0 or below, or above the most that a half-space gives. */
  readonly found: "yes" | "not positive" | "above the largest response";
}

/**
 * The conductivity of the half-space whose exact quadrature at the coils' height is the one given.
 *
 * The quadrature rises with conductivity to a maximum and falls again (HCP turns negative at an
 * induction number of 1.2), so a value has two conductivities, or none above the maximum: the
 * smaller one is returned, to 1e-9 relative. For many readings of the same coils use
 * `halfSpaceInverse`.
 *
 * `quadrature_ppm`: ppm; NaN gives NaN with "not positive". Throws StepError for faulty coils.
 *
 * @example
 * halfSpaceConductivity(1841.77243, {
 *   orientation: "HCP", separation_m: 1, frequency_Hz: 10000, height_m: 0,
 * }).conductivity_S_per_m; // 0.1
 */
export function halfSpaceConductivity(quadrature_ppm: number, coils: Coils): HalfSpaceConductivity {
  return halfSpaceInverse(coils)(quadrature_ppm);
}

/** `halfSpaceConductivity` prepared for one pair of coils at one height. */
export function halfSpaceInverse(coils: Coils): (quadrature_ppm: number) => HalfSpaceConductivity {
  const faults = coilFaults(coils);
  if (faults.length > 0) throw new StepError("halfSpaceConductivity", faults);
  const quadrature = halfSpaceQuadrature(coils);
  const turn = turningPoint(quadrature, coils);
  const most = quadrature(turn);
  return (quadrature_ppm) => {
    if (!(quadrature_ppm > 0)) return { conductivity_S_per_m: Number.NaN, found: "not positive" };
    if (quadrature_ppm > most) {
      return { conductivity_S_per_m: Number.NaN, found: "above the largest response" };
    }
    const miss = (ln: number) => Math.log(quadrature(Math.exp(ln)) / quadrature_ppm);
    return { conductivity_S_per_m: Math.exp(risingRoot(miss, Math.log(turn))), found: "yes" };
  };
}

/** Quadrature, ppm, as a function of the half-space's conductivity, S/m. */
function halfSpaceQuadrature(coils: Coils): (conductivity_S_per_m: number) => number {
  const points = wavenumbers(FINE_SAMPLING, coils.height_m, [coils.separation_m]);
  const weights = coilWeights(points, FINE_SAMPLING, coils);
  const omegaMu = 2 * Math.PI * coils.frequency_Hz * MU_0;
  const r = new Float64Array(2);
  const earth = { induction_per_m2: new Float64Array(1), thickness_m: new Float64Array(0) };
  return (conductivity) => {
    earth.induction_per_m2[0] = omegaMu * conductivity;
    let sum = 0;
    for (let i = 0; i < weights.length; i++) {
      reflection(earth, points.wavenumber_per_m[i]!, r);
      sum += weights[i]! * r[1]!;
    }
    return 1e6 * sum;
  };
}

/** The conductivity of the first maximum: walked up to, then closed in on. */
function turningPoint(quadrature: (conductivity: number) => number, coils: Coils): number {
  const omegaMu = 2 * Math.PI * coils.frequency_Hz * MU_0;
  // An induction number of 0.1 over the larger of separation and height: well below the maximum.
  const start = Math.log(0.02 / (omegaMu * Math.max(coils.separation_m, coils.height_m) ** 2));
  const at = (ln: number) => quadrature(Math.exp(ln));
  let low = start;
  let value = at(low);
  for (let next = at(low + STRIDE); next > value; next = at(low + STRIDE)) {
    low += STRIDE;
    value = next;
  }
  return Math.exp(largestWithin(at, low - STRIDE, low + STRIDE));
}

const STRIDE = 0.3;
const GOLDEN = (Math.sqrt(5) - 1) / 2;

function largestWithin(at: (ln: number) => number, from: number, to: number): number {
  let [low, high] = [from, to];
  let [left, right] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
  let [atLeft, atRight] = [at(left), at(right)];
  while (high - low > 1e-6) {
    if (atLeft < atRight) {
      [low, left, atLeft] = [left, right, atRight];
      right = low + GOLDEN * (high - low);
      atRight = at(right);
    } else {
      [high, right, atRight] = [right, left, atLeft];
      left = high - GOLDEN * (high - low);
      atLeft = at(left);
    }
  }
  return (low + high) / 2;
}

/** The root of a rising function below `top`, by false position (Illinois), bisected when slow. */
function risingRoot(miss: (ln: number) => number, top: number): number {
  let high = top;
  let atHigh = miss(high);
  let low = high - 1;
  let atLow = miss(low);
  while (atLow > 0) {
    [high, atHigh] = [low, atLow];
    // Over weak ground the response is proportional to conductivity: this step lands just below.
    low -= atLow + 0.1;
    atLow = miss(low);
  }
  for (let round = 0; high - low > 1e-10 && round < 100; round++) {
    const guess =
      round % 8 === 7 ? (low + high) / 2 : (low * atHigh - high * atLow) / (atHigh - atLow);
    const here = miss(guess);
    if (Math.abs(here) < 1e-12) return guess;
    if (here > 0) {
      [high, atHigh] = [guess, here];
      atLow /= 2;
    } else {
      [low, atLow] = [guess, here];
      atHigh /= 2;
    }
  }
  return (low + high) / 2;
}

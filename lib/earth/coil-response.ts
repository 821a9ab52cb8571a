import { type Fault, quoted, StepError } from "../numerics/step-error.js";
import { checkLayerCount, checkList, checkNumber, NOT_NEGATIVE, POSITIVE } from "./check.js";
import {
  type CoilGeometry,
  type CoilOrientation,
  coilWeights,
  FINE_SAMPLING,
  wavenumbers,
} from "./coil-quadrature.js";
import { MU_0, reflection } from "./coil-reflection.js";

/** Layers from the surface down; the last one goes on for ever. */
export interface ConductiveEarth {
  /** Conductivity of m layers, S/m, 0 or above. */
  readonly conductivity_S_per_m: ArrayLike<number>;
  /** Thickness of all but the last, m − 1 values, m, above 0. */
  readonly thickness_m: ArrayLike<number>;
}

/** One pair of coils, transmitter and receiver at the same height. */
export interface Coils {
  /** HCP: both horizontal; VCP: both vertical in one plane; PRP: one of each. */
  readonly orientation: CoilOrientation;
  /** Distance of the coils' centres, m, above 0. */
  readonly separation_m: number;
  /** Hz, above 0. */
  readonly frequency_Hz: number;
  /** Height above the ground, m, 0 or above. */
  readonly height_m: number;
}

export interface CoilReading {
  /** Real part of the secondary over the free-air primary field, parts per million. */
  readonly inphase_ppm: number;
  /** Imaginary part of the same; for HCP positive over conductive ground. */
  readonly quadrature_ppm: number;
}

/**
 * The response of a layered earth to a pair of coils: the secondary field at the receiver over the
 * primary field there in free air, ppm. The whole quasi-static solution, not the low-induction one.
 *
 * With u_j = sqrt(λ² + iωμ₀σ_j) and r the reflection coefficient of the layers, HCP
 * −s³ ∫ r e^(−2λh) λ² J₀(λs) dλ, VCP −s² ∫ r e^(−2λh) λ J₁(λs) dλ, PRP −s³ ∫ r e^(−2λh) λ² J₁(λs)
 * dλ (PRP over the primary field of the coplanar pair).
 *
 * `earth`: conductivities of m layers (S/m) and m − 1 thicknesses (m), surface first; a layer of
 * zero conductivity is allowed. `coils`: orientation, separation (m), frequency (Hz), height (m).
 * Output: in-phase and quadrature, ppm. Nothing may be missing: NaN is a fault.
 *
 * Limits: layers without magnetic susceptibility, displacement currents left out (below about
 * 100 kHz on ordinary ground), dipole coils. The error stays below 1e-6 of the larger component
 * for separations of 0.5 to 50 m, 100 Hz to 100 kHz, up to 5 S/m, on the ground and above it.
 * Throws StepError with every fault.
 *
 * Source: Wait 1982, Geo-electromagnetism; Ward & Hohmann 1988, Electromagnetic theory for
 * geophysical applications; Keller & Frischknecht 1966.
 *
 * @example
 * coilResponse(
 *   { conductivity_S_per_m: [0.1], thickness_m: [] },
 *   { orientation: "HCP", separation_m: 1, frequency_Hz: 10000, height_m: 0 },
 * ); // { inphase_ppm: 124.65, quadrature_ppm: 1841.77 }
 */
export function coilResponse(earth: ConductiveEarth, coils: Coils): CoilReading {
  const faults = [...earthFaults(earth), ...coilFaults(coils)];
  if (faults.length > 0) throw new StepError("coilResponse", faults);
  return layeredResponse(earth, coils);
}

/** `coilResponse` for input that is known to be valid. */
export function layeredResponse(earth: ConductiveEarth, coils: Coils): CoilReading {
  const omegaMu = 2 * Math.PI * coils.frequency_Hz * MU_0;
  const inductive = {
    induction_per_m2: Float64Array.from(earth.conductivity_S_per_m, (sigma) => sigma * omegaMu),
    thickness_m: Float64Array.from(earth.thickness_m),
  };
  const { wavenumber_per_m, weights } = finePoints(coils);
  const r = new Float64Array(2);
  let inphase = 0;
  let quadrature = 0;
  for (let i = 0; i < weights.length; i++) {
    reflection(inductive, wavenumber_per_m[i]!, r);
    inphase += weights[i]! * r[0]!;
    quadrature += weights[i]! * r[1]!;
  }
  return { inphase_ppm: 1e6 * inphase, quadrature_ppm: 1e6 * quadrature };
}

interface FinePoints {
  readonly wavenumber_per_m: Float64Array;
  readonly weights: Float64Array;
}

/** Most coil pairs whose points are kept. */
const KEPT = 64;
const kept = new Map<string, FinePoints>();

/** Points and weights of a coil pair; kept for the next call, as they are half of its work. */
function finePoints({ orientation, separation_m, height_m }: CoilGeometry): FinePoints {
  const key = `${orientation} ${separation_m} ${height_m}`;
  const known = kept.get(key);
  if (known !== undefined) return known;
  const points = wavenumbers(FINE_SAMPLING, height_m, [separation_m]);
  const weights = coilWeights(points, FINE_SAMPLING, { orientation, separation_m, height_m });
  const made = { wavenumber_per_m: points.wavenumber_per_m, weights };
  if (kept.size >= KEPT) kept.delete(kept.keys().next().value!);
  kept.set(key, made);
  return made;
}

export function earthFaults(earth: ConductiveEarth): Fault[] {
  const faults: Fault[] = [];
  checkList(faults, "earth.conductivity_S_per_m", [earth?.conductivity_S_per_m, NOT_NEGATIVE]);
  checkList(faults, "earth.thickness_m", [earth?.thickness_m, POSITIVE]);
  const lists: [unknown, unknown] = [earth?.conductivity_S_per_m, earth?.thickness_m];
  checkLayerCount(faults, "earth.thickness_m", lists);
  return faults;
}

export function coilFaults(coils: Coils, path = "coils"): Fault[] {
  const faults: Fault[] = [];
  const orientation: unknown = coils?.orientation;
  if (orientation !== "HCP" && orientation !== "VCP" && orientation !== "PRP") {
    const expected = '"HCP", "VCP" or "PRP"';
    const received = quoted(orientation);
    faults.push({ code: "orientation", path: `${path}.orientation`, expected, received });
  }
  checkNumber(faults, `${path}.separation_m`, [coils?.separation_m, POSITIVE]);
  checkNumber(faults, `${path}.frequency_Hz`, [coils?.frequency_Hz, POSITIVE]);
  checkNumber(faults, `${path}.height_m`, [coils?.height_m, NOT_NEGATIVE]);
  return faults;
}

/** The same where no frequency is asked for. */
export function coilGeometryFaults(coils: CoilGeometry): Fault[] {
  return coilFaults({ ...coils, frequency_Hz: 1 });
}

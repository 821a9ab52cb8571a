import { choleskyFactor, choleskySolve } from "../numerics/algebra/cholesky.js";
import { zipped } from "../numerics/arrays.js";

/** One measured soil temperature; rows with a NaN are left out. */
export interface TemperatureMeasurement {
  /** s since 1970-01-01T00:00Z. */
  readonly time_s: number;
  readonly depth_m: number;
  readonly temperature_degC: number;
}

/** A damped annual wave of soil temperature. */
export interface AnnualWave {
  readonly mean_degC: number;
  /** At the surface. */
  readonly amplitude_degC: number;
  /** Depth over which the wave falls to 1/e, m. */
  readonly damping_m: number;
  /** Root mean square of measured − fitted, °C. */
  readonly rms_degC: number;
  readonly at: (depth_m: number, time_s: number) => number;
}

const YEAR_S = 365.2425 * 86_400;
/** Damping depths tried, m: thermal diffusivities of 1e-7 to 2e-6 m²/s give 1.0 to 4.5. */
const DAMPING_M = [0.8, 5.5] as const;

/**
 * Fits mean, amplitude, phase and damping depth by least squares; null where the measurements do
 * not determine them (all at one season, say). For each damping depth the rest is linear; the depth
 * is found by search, to 0.1 %.
 */
export function fitAnnualWave(rows: readonly TemperatureMeasurement[]): AnnualWave | null {
  const [low, high] = DAMPING_M;
  const coarse = bestWithin(rows, low, high);
  if (coarse === null) return null;
  const step = (high / low) ** (1 / (TRIES - 1));
  const fine = bestWithin(rows, coarse.damping_m / step, coarse.damping_m * step);
  return waveOf(fine ?? coarse, rows.length);
}

const TRIES = 40;

function bestWithin(
  rows: readonly TemperatureMeasurement[],
  low: number,
  high: number,
): LinearFit | null {
  let best: LinearFit | null = null;
  for (let i = 0; i < TRIES; i++) {
    const fit = fitLinear(rows, low * (high / low) ** (i / (TRIES - 1)));
    if (fit !== null && (best === null || fit.squares < best.squares)) best = fit;
  }
  return best;
}

interface LinearFit {
  readonly damping_m: number;
  readonly coefficients: Float64Array;
  readonly squares: number;
}

/** The three terms of the wave at a depth and time: 1, e^(−z/d) cos and e^(−z/d) sin. */
function terms(damping_m: number, depth_m: number, time_s: number): [number, number, number] {
  const lag = depth_m / damping_m;
  const phase = (2 * Math.PI * time_s) / YEAR_S - lag;
  const fade = Math.exp(-lag);
  return [1, fade * Math.cos(phase), fade * Math.sin(phase)];
}

function fitLinear(rows: readonly TemperatureMeasurement[], damping_m: number): LinearFit | null {
  const normal = new Float64Array(9);
  const right = new Float64Array(3);
  const design = rows.map((row) => terms(damping_m, row.depth_m, row.time_s));
  for (const [own, { temperature_degC }] of zipped(design, rows)) {
    for (const [i, term] of own.entries()) {
      right[i]! += term * temperature_degC;
      for (const [j, other] of own.entries()) normal[3 * i + j]! += term * other;
    }
  }
  const coefficients = solveWellPosed(normal, right);
  if (coefficients === null) return null;
  const squares = zipped(design, rows).reduce((sum, [own, { temperature_degC }]) => {
    const fitted = own.reduce((part, term, i) => part + term * coefficients[i]!, 0);
    return sum + (temperature_degC - fitted) ** 2;
  }, 0);
  return { damping_m, coefficients, squares };
}

/** Null where a term nearly combines the others: under 2 % of its square is its own. */
function solveWellPosed(normal: Float64Array, right: Float64Array): Float64Array | null {
  try {
    const factor = choleskyFactor(normal, 3);
    const own = [0, 1, 2].map((i) => factor[4 * i]! ** 2 / normal[4 * i]!);
    return own.every((share) => share > 0.02) ? choleskySolve(factor, 3, right) : null;
  } catch {
    return null;
  }
}

function waveOf(fit: LinearFit, count: number): AnnualWave {
  const [mean, cosine, sine] = fit.coefficients as unknown as [number, number, number];
  return {
    mean_degC: mean,
    amplitude_degC: Math.hypot(cosine, sine),
    damping_m: fit.damping_m,
    rms_degC: Math.sqrt(fit.squares / count),
    at: (depth_m, time_s) => {
      const [one, byCosine, bySine] = terms(fit.damping_m, depth_m, time_s);
      return one * mean + byCosine * cosine + bySine * sine;
    },
  };
}

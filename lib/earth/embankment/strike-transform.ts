/** Samples of a function of the wavenumber, evenly spaced in ln k. */
export interface WavenumberSamples {
  readonly low: number;
  readonly step: number;
  readonly values: Float64Array;
}

/**
 * (2/π) ∫₀^∞ f(k) cos(k y) dk, or with sin(k y); f a cubic spline in ln k through the samples, of
 * the form A + B ln k below them (with the sine: nothing) and zero above.
 */
export function alongStrike(
  samples: WavenumberSamples,
  y: number,
  wave: "cosine" | "sine" = "cosine",
): number {
  const { low, step, values } = samples;
  const along = wave === "cosine" ? Math.cos : Math.sin;
  const curvature = splineCurvature(values);
  const k0 = Math.exp(low);
  const slope = (values[1]! - values[0]!) / step - curvature[1]! / (6 * step);
  let sum = wave === "cosine" ? k0 * (values[0]! - slope) : 0;
  for (let i = 0; i + 1 < values.length; i++) {
    const from = Math.exp(low + i * step);
    const width = from * Math.expm1(step);
    const pieces = 2 + Math.ceil(width * y);
    for (let p = 0; p < pieces; p++) {
      sum += gaussPiece(from + (p * width) / pieces, width / pieces, (k) => {
        const t = (Math.log(k) - low) / step - i;
        return splineValue(values, curvature, i, t) * along(k * y);
      });
    }
  }
  return (2 / Math.PI) * sum;
}

/** Three-point Gauss-Legendre over one piece. */
function gaussPiece(from: number, width: number, f: (k: number) => number): number {
  const half = width / 2;
  const reach = half * Math.sqrt(0.6);
  const middle = from + half;
  return (half * (5 * f(middle - reach) + 8 * f(middle) + 5 * f(middle + reach))) / 9;
}

function splineValue(values: Float64Array, curvature: Float64Array, i: number, t: number): number {
  const s = 1 - t;
  const bend = (s ** 3 - s) * curvature[i]! + (t ** 3 - t) * curvature[i + 1]!;
  return s * values[i]! + t * values[i + 1]! + bend / 6;
}

/** Second derivatives (per step squared) of the natural cubic spline. */
function splineCurvature(values: Float64Array): Float64Array {
  const n = values.length;
  const upper = new Float64Array(n);
  const curvature = new Float64Array(n);
  for (let i = 1; i + 1 < n; i++) {
    const pivot = 4 - upper[i - 1]!;
    const rhs = 6 * (values[i + 1]! - 2 * values[i]! + values[i - 1]!);
    upper[i] = 1 / pivot;
    curvature[i] = (rhs - curvature[i - 1]!) / pivot;
  }
  for (let i = n - 2; i > 0; i--) curvature[i] = curvature[i]! - upper[i]! * curvature[i + 1]!;
  return curvature;
}

import { Matrix, QrDecomposition } from "ml-matrix";
import { type Complex, over, power, root, times } from "./complex.js";

/** Weights with which Σ weight_k f(abscissa_k / s) / s stands for ∫ f(λ) J(λs) dλ, from 0 on. */
export interface HankelFilter {
  readonly abscissa: Float64Array;
  readonly j0: Float64Array;
  readonly j1: Float64Array;
}

const POINTS = 120;
const LOWEST = 1e-4;
const HIGHEST = 60;
/** Holds weights that the pairs leave open near 0. */
const RIDGE = 1e-13;

/** An equation of the design: the function at an abscissa, and its transform at s = 1. */
interface Pair {
  readonly at: (x: number) => number;
  readonly transform: number;
}

/**
 * A digital filter for Hankel transforms of order 0 and 1, on abscissae of equal spacing in log,
 * from known pairs by least squares: exponentials of many lengths with powers of x, and Sommerfeld's
 * integral, which has the branch points of a conductive half-space, at many conductivities.
 * Source: Kong 2007, Geophysical Prospecting 55, 83–89 (design from pairs, mem); Watson 1944,
 * A treatise on the theory of Bessel functions, 13.2, 13.47 (the pairs).
 */
export function designFilter(): HankelFilter {
  const step = Math.log(HIGHEST / LOWEST) / (POINTS - 1);
  const abscissa = Float64Array.from({ length: POINTS }, (_, k) => LOWEST * Math.exp(k * step));
  const lengths = logSpaced(1e-4, 300, 120);
  const numbers = logSpaced(1e-3, 10, 24);
  const sommerfeld = numbers.flatMap((b) => [0.03, 0.1, 0.3, 1, 3].map((z) => [b, z] as const));
  const j0 = [...lengths.flatMap(exponentials0), ...sommerfeld.flatMap(sommerfeld0)];
  const j1 = [...lengths.flatMap(exponentials1), ...sommerfeld.flatMap(sommerfeld1)];
  return { abscissa, j0: weights(abscissa, j0), j1: weights(abscissa, j1) };
}

function logSpaced(low: number, high: number, count: number): readonly number[] {
  return Array.from({ length: count }, (_, i) => low * (high / low) ** (i / (count - 1)));
}

function weights(abscissa: Float64Array, pairs: readonly Pair[]): Float64Array {
  const rows = pairs.map(({ at }) => Array.from(abscissa, at));
  const ridge = Array.from(abscissa, (_, k) => Array.from(abscissa, (_x, j) => +(j === k) * RIDGE));
  const right = [...pairs.map(({ transform }) => transform), ...ridge.map(() => 0)];
  const solved = new QrDecomposition(new Matrix([...rows, ...ridge]));
  return Float64Array.from(solved.solve(Matrix.columnVector(right)).to1DArray());
}

/** Each equation is scaled so that its transform is of the order of 1. */
function pair(scale: number, at: (x: number) => number, transform: number): Pair {
  return { at: (x) => scale * at(x), transform: scale * transform };
}

function exponentials0(a: number): readonly Pair[] {
  const q = a * a + 1;
  return [
    pair(1 + a, (x) => Math.exp(-a * x), q ** -0.5),
    pair(1 + a * a, (x) => x * Math.exp(-a * x), a * q ** -1.5),
    pair((1 + a) ** 3, (x) => x * x * Math.exp(-a * x), (2 * a * a - 1) * q ** -2.5),
  ];
}

function exponentials1(a: number): readonly Pair[] {
  const q = a * a + 1;
  const r = Math.sqrt(q);
  return [
    pair(1 + a, (x) => Math.exp(-a * x) / x, 1 / (r + a)),
    pair(1 + a * a, (x) => Math.exp(-a * x), 1 / (r * (r + a))),
    pair(1 + a ** 3, (x) => x * Math.exp(-a * x), q ** -1.5),
    pair(1 + a ** 4, (x) => x * x * Math.exp(-a * x), 3 * a * q ** -2.5),
  ];
}

type Sommerfeld = readonly [number: number, depth: number];

/** x e^(−uz)/u − e^(−xz), u = sqrt(x² + i b²): what a conductor changes. */
function changed([b, z]: Sommerfeld, x: number): Complex {
  const u = root([x * x, b * b]);
  const [re, im] = over(power([-z * u[0], -z * u[1]]), u);
  return [x * re - Math.exp(-x * z), x * im];
}

/** e^(−cR), c = b sqrt(i). */
const fading = (b: number, R: number) => power([-b * R * Math.SQRT1_2, -b * R * Math.SQRT1_2]);

/** ∫ x e^(−uz)/u J₀ dx = e^(−cR)/R. */
function sommerfeld0(at: Sommerfeld): readonly Pair[] {
  const R = Math.hypot(1, at[1]);
  const [re, im] = fading(at[0], R);
  const scale = R / at[0];
  return [
    pair(scale, (x) => changed(at, x)[0], (re - 1) / R),
    pair(scale, (x) => changed(at, x)[1], im / R),
  ];
}

/** ∫ x² e^(−uz)/u J₁ dx = (1 + cR) e^(−cR)/R³. */
function sommerfeld1(at: Sommerfeld): readonly Pair[] {
  const R = Math.hypot(1, at[1]);
  const c = at[0] * Math.SQRT1_2;
  const [re, im] = times([1 + c * R, c * R], fading(at[0], R));
  const scale = at[0] > 1 ? R * R : (R / at[0]) ** 2;
  return [
    pair(scale, (x) => x * changed(at, x)[0], (re - 1) / R ** 3),
    pair(scale, (x) => x * changed(at, x)[1], im / R ** 3),
  ];
}

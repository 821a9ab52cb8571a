// Abramowitz & Stegun (1964), 9.8.1–9.8.8: polynomials with relative errors below 2e-7, far below
// what grids and quadratures of this folder reach.

const I0_SMALL = [1, 3.5156229, 3.0899424, 1.2067492, 0.2659732, 0.0360768, 0.0045813];
const I1_SMALL = [0.5, 0.87890594, 0.51498869, 0.15084934, 0.02658733, 0.00301532, 0.00032411];
const K0_SMALL = [-0.57721566, 0.4227842, 0.23069756, 0.0348859, 0.00262698, 0.0001075, 0.0000074];
const K0_LARGE = [
  1.25331414, -0.07832358, 0.02189568, -0.01062446, 0.00587872, -0.0025154, 0.00053208,
];
const K1_SMALL = [1, 0.15443144, -0.67278579, -0.18156897, -0.01919402, -0.00110404, -0.00004686];
const K1_LARGE = [
  1.25331414, 0.23498619, -0.0365562, 0.01504268, -0.00780353, 0.00325614, -0.00068245,
];

/** Of six degrees; written out, as it is most of the work of a boundary integral. */
function polynomial(c: readonly number[], x: number): number {
  const upper = c[3]! + x * (c[4]! + x * (c[5]! + x * c[6]!));
  return c[0]! + x * (c[1]! + x * (c[2]! + x * upper));
}

/** Modified Bessel function of the second kind and order 0, times exp(x) where x > 2; x > 0. */
function scaledK0(x: number): number {
  if (x > 2) return polynomial(K0_LARGE, 2 / x) / Math.sqrt(x);
  const i0 = polynomial(I0_SMALL, (x / 3.75) ** 2);
  return -Math.log(x / 2) * i0 + polynomial(K0_SMALL, (x / 2) ** 2);
}

function scaledK1(x: number): number {
  if (x > 2) return polynomial(K1_LARGE, 2 / x) / Math.sqrt(x);
  const i1 = x * polynomial(I1_SMALL, (x / 3.75) ** 2);
  return Math.log(x / 2) * i1 + polynomial(K1_SMALL, (x / 2) ** 2) / x;
}

/** Modified Bessel function of the second kind, order 0; x > 0. */
export function besselK0(x: number): number {
  return x > 2 ? scaledK0(x) * Math.exp(-x) : scaledK0(x);
}

/** Modified Bessel function of the second kind, order 1; x > 0. */
export function besselK1(x: number): number {
  return x > 2 ? scaledK1(x) * Math.exp(-x) : scaledK1(x);
}

/** K1(x) / K0(x), without underflow for large x. */
export function besselRatioK1K0(x: number): number {
  return scaledK1(x) / scaledK0(x);
}

/** K0(x) and K1(x) into `out`, for less than the two by themselves; x > 0. */
export function besselK0K1(x: number, out: Float64Array): void {
  if (x > 2) {
    const scale = Math.exp(-x) / Math.sqrt(x);
    out[0] = scale * polynomial(K0_LARGE, 2 / x);
    out[1] = scale * polynomial(K1_LARGE, 2 / x);
    return;
  }
  const quarter = (x * x) / 4;
  const ratio = (x / 3.75) ** 2;
  const log = Math.log(x / 2);
  out[0] = polynomial(K0_SMALL, quarter) - log * polynomial(I0_SMALL, ratio);
  out[1] = log * x * polynomial(I1_SMALL, ratio) + polynomial(K1_SMALL, quarter) / x;
}

import type { Coils, ConductiveEarth } from "../../lib/earth/coil-response.js";
import { gaussLegendre } from "../../lib/numerics/functions/gauss-legendre.js";

/**
 * The coil response by a second road, sharing nothing with the library's: input impedances with
 * complex tanh, Bessel functions by downward recurrence, 40-point Gauss panels between the zeros of
 * the Bessel function, and Wynn's epsilon algorithm on their sums where the coils stand on the
 * ground.
 */
export function bruteForceCoils(earth: ConductiveEarth, coils: Coils): [number, number] {
  const order = coils.orientation === "HCP" ? 0 : 1;
  const power = coils.orientation === "VCP" ? 1 : 2;
  const s = coils.separation_m;
  const integrand = (x: number): [number, number] => {
    const [re, im] = impedanceReflection(earth, coils.frequency_Hz, x / s);
    const weight = -1e6 * x ** power * Math.exp((-2 * x * coils.height_m) / s) * bessel(order, x);
    return [weight * re, weight * im];
  };
  const edges = [0, ...Array.from({ length: 14 }, (_, i) => 2 ** (i - 13) * (order ? 3.83 : 2.4))];
  let re = 0;
  let im = 0;
  for (let i = 1; i < edges.length; i++) [re, im] = plus([re, im], panel(integrand, edges, i));
  const sums: [number, number][] = [[re, im]];
  const zeros = Array.from({ length: 60 }, (_, i) => edges.at(-1)! + i * Math.PI);
  for (let i = 1; i < zeros.length; i++) {
    [re, im] = plus([re, im], panel(integrand, zeros, i));
    sums.push([re, im]);
  }
  return [epsilon(sums.map((sum) => sum[0])), epsilon(sums.map((sum) => sum[1]))];
}

const plus = (a: [number, number], b: [number, number]): [number, number] => [
  a[0] + b[0],
  a[1] + b[1],
];
const rule = gaussLegendre(40);

function panel(
  f: (x: number) => [number, number],
  edges: readonly number[],
  i: number,
): [number, number] {
  const half = (edges[i]! - edges[i - 1]!) / 2;
  let total: [number, number] = [0, 0];
  for (const [k, node] of rule.node.entries()) {
    const value = f(edges[i - 1]! + half * (1 + node));
    total = plus(total, [value[0] * half * rule.weight[k]!, value[1] * half * rule.weight[k]!]);
  }
  return total;
}

/** Miller's downward recurrence, normalised by J₀ + 2 Σ J₂ₖ = 1. */
export function bessel(order: 0 | 1, x: number): number {
  let above = 0;
  let here = 1e-300;
  let norm = 0;
  let first = 0;
  for (let n = 2 * Math.ceil((x + 6 * Math.cbrt(x) + 20) / 2); n > 0; n--) {
    if (n % 2 === 0) norm += 2 * here;
    [above, here] = [here, ((2 * n) / x) * here - above];
    if (n === 2) first = here;
    if (Math.abs(here) > 1e200) {
      [above, here, norm, first] = [above, here, norm, first].map((v) => v * 1e-200) as [
        number,
        number,
        number,
        number,
      ];
    }
  }
  return (order === 0 ? here : first) / (norm + here);
}

type Complex = [number, number];
const times = (a: Complex, b: Complex): Complex => [
  a[0] * b[0] - a[1] * b[1],
  a[0] * b[1] + a[1] * b[0],
];
const over = (a: Complex, b: Complex): Complex => {
  const size = b[0] * b[0] + b[1] * b[1];
  return [(a[0] * b[0] + a[1] * b[1]) / size, (a[1] * b[0] - a[0] * b[1]) / size];
};

function impedanceReflection(earth: ConductiveEarth, frequency_Hz: number, wavenumber: number) {
  const omegaMu = 2 * Math.PI * frequency_Hz * 4e-7 * Math.PI;
  const u = Array.from(earth.conductivity_S_per_m, (sigma): Complex => {
    const angle = Math.atan2(omegaMu * sigma, wavenumber ** 2) / 2;
    const size = Math.sqrt(Math.hypot(omegaMu * sigma, wavenumber ** 2));
    return [size * Math.cos(angle), size * Math.sin(angle)];
  });
  let input = u.at(-1)!;
  for (let j = u.length - 2; j >= 0; j--) {
    const t = complexTanh(times(u[j]!, [earth.thickness_m[j]!, 0]));
    const top = plus(input, times(u[j]!, t));
    input = times(u[j]!, over(top, plus(u[j]!, times(input, t))));
  }
  return over([wavenumber - input[0], -input[1]], [wavenumber + input[0], input[1]]);
}

function complexTanh([re, im]: Complex): Complex {
  if (re > 20) return [1, 0];
  const low = Math.cosh(2 * re) + Math.cos(2 * im);
  return [Math.sinh(2 * re) / low, Math.sin(2 * im) / low];
}

/** The last entry of Wynn's table; the partial sums' own limit where they have settled. */
function epsilon(sums: readonly number[]): number {
  let before = sums.map(() => 0);
  let here = [...sums];
  let best = sums.at(-1)!;
  let spread = Number.POSITIVE_INFINITY;
  for (let column = 1; here.length > 2; column++) {
    const next = here.slice(1).map((value, i) => before[i + 1]! + 1 / (value - here[i]!));
    if (!next.every(Number.isFinite)) return best;
    [before, here] = [here, next];
    if (column % 2 === 1) continue;
    const change = Math.abs(here.at(-1)! - here.at(-2)!);
    if (change < spread) [best, spread] = [here.at(-1)!, change];
  }
  return best;
}

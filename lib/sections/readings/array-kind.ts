import type { SectionElectrode, SectionSpread } from "../section-input.js";
import { positionsOf } from "../section-input.js";

/** Where a reading looks, by its array. */
export interface ArrayPlace {
  /** By the terms of the trade: "Wenner α", "dipole-dipole" …; "other" where it is none. */
  readonly array: string;
  /** What readings of one array and size share, such as "Wenner α 4". */
  readonly group: string;
  /** Middle of its electrodes that are not remote, m along the line. */
  readonly x_m: number;
  /** Median depth of investigation over even ground, m. */
  readonly medianDepth_m: number;
}

const NEAR = 0.02;

/** The array of four electrodes, whichever of them are remote and whichever pair carries current. */
export function arrayPlace(
  spread: SectionSpread,
  electrodes: readonly SectionElectrode[],
): ArrayPlace {
  const { a_m, b_m, m_m, n_m } = positionsOf(spread, electrodes);
  const all = [a_m, b_m, m_m, n_m].filter(Number.isFinite).sort((p, q) => p - q);
  const x_m = ((all[0] ?? Number.NaN) + (all.at(-1) ?? Number.NaN)) / 2;
  const [array, size] = named([a_m, b_m].sort(byValue), [m_m, n_m].sort(byValue));
  const medianDepth_m = medianDepth([a_m, b_m], [m_m, n_m]);
  const lengths = all.slice(1).map((value, i) => (value - all[i]!).toPrecision(2));
  return { array, group: `${array} ${size} (${lengths.join(", ")})`, x_m, medianDepth_m };
}

const byValue = (p: number, q: number) => p - q;

/** Name and relative size; pairs in ascending order, remote ones last. */
function named(current: number[], potential: number[]): readonly [string, string] {
  const remote = [...current, ...potential].filter((value) => !Number.isFinite(value)).length;
  if (remote === 2) return ["pole-pole", ""];
  if (remote === 1) return poleDipole(current, potential);
  const [c, p] = [current as [number, number], potential as [number, number]];
  const inside = p[0] > c[0] && p[1] < c[1];
  const outside = c[0] > p[0] && c[1] < p[1];
  if (inside) return nested(c, p);
  if (outside) return nested(p, c);
  if (c[1] < p[0] || p[1] < c[0]) return apart(c, p);
  const steps = [...c, ...p].sort(byValue);
  return [isEven(steps) ? "Wenner γ" : "interleaved", ""];
}

function poleDipole(current: number[], potential: number[]): readonly [string, string] {
  const lone = [...current, ...potential].filter(Number.isFinite);
  const pair = current.every(Number.isFinite) ? current : potential;
  const pole = lone.find((value) => !pair.includes(value)) ?? Number.NaN;
  const [near, far] = pair.map((value) => Math.abs(value - pole)).sort(byValue) as [number, number];
  return ["pole-dipole", ratioText(near / (far - near))];
}

function nested(outer: [number, number], inner: [number, number]): readonly [string, string] {
  const [left, middle, right] = [inner[0] - outer[0], inner[1] - inner[0], outer[1] - inner[1]];
  if (isEven([...outer, ...inner].sort(byValue))) return ["Wenner α", ""];
  const isCentred = Math.abs(left - right) < NEAR * (left + right);
  return [isCentred ? "Schlumberger" : "gradient", ratioText(left / middle)];
}

function apart(one: [number, number], other: [number, number]): readonly [string, string] {
  const [first, second] = one[1] < other[0] ? [one, other] : [other, one];
  if (isEven([...first, ...second])) return ["Wenner β", ""];
  return ["dipole-dipole", ratioText((second[0] - first[1]) / (first[1] - first[0]))];
}

function isEven(sorted: readonly number[]): boolean {
  const steps = sorted.slice(1).map((value, i) => value - sorted[i]!);
  const mean = steps.reduce((sum, step) => sum + step, 0) / steps.length;
  return steps.every((step) => Math.abs(step - mean) < NEAR * mean);
}

const ratioText = (ratio: number) => `n ${Number(ratio.toPrecision(2))}`;

/**
 * The depth above which lies half of a reading's response to thin level layers of even ground: of
 * each pair of electrodes ∫₀^z is 1/r − 1/√(r² + 4z²) (Edwards 1977; Barker 1989). NaN where the
 * response is no share of its sum.
 */
export function medianDepth(
  current: readonly [number, number],
  potential: readonly [number, number],
): number {
  const terms = current.flatMap((c, i) =>
    potential.map((p, j) => ({ r: Math.abs(c - p), sign: i === j ? 1 : -1 })),
  );
  const finite = terms.filter(({ r }) => Number.isFinite(r));
  const below = (z: number) =>
    finite.reduce((sum, { r, sign }) => sum + sign / Math.sqrt(r * r + 4 * z * z), 0);
  const all = below(0);
  if (!(Math.abs(all) > 0)) return Number.NaN;
  let [low, high] = [0, 2 * Math.max(...finite.map(({ r }) => r))];
  for (let step = 0; step < 50; step++) {
    const middle = (low + high) / 2;
    if (below(middle) / all > 0.5) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

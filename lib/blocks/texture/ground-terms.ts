/** What a line's level may have beside a constant: 0, then a rise, then 1 to the end. */
export interface GroundTerm {
  /** The first sample of the rise, and of the ones where there is none. */
  readonly from: number;
  /** Its values; none: a step. */
  readonly rise: Float64Array;
  /** What its place costs beside its size, −2 ln likelihood. */
  readonly price: number;
  /** Other terms may begin within its rise. */
  readonly isBroad?: true;
}

/** A step up by one before sample `from`. */
export const stepTerm = (from: number, price: number): GroundTerm => {
  return { from, rise: new Float64Array(0), price };
};

/** A rise by one from sample `from` to sample `to` of n, straight. */
export function rampTerm(
  n: number,
  [from, to]: readonly [number, number],
  price: number,
): GroundTerm {
  const first = Math.max(0, Math.ceil(from));
  const length = Math.max(0, Math.min(n, Math.ceil(to)) - first);
  const rise = Float64Array.from({ length }, (_, k) => (first + k - from) / (to - from));
  return { from: first, rise, price };
}

/** A slope of the whole line, beside whatever else it has. */
export const slopeTerm = (n: number): GroundTerm => broad(rampTerm(n, [0, n - 1], 0));

/** The term as one that others may begin within. */
export const broad = (term: GroundTerm): GroundTerm => ({ ...term, isBroad: true });

/** The first sample from which on a term is 1. */
export const endOf = ({ from, rise }: GroundTerm): number => from + rise.length;

/** A term's value at a sample. */
export function termAt({ from, rise }: GroundTerm, i: number): number {
  return i < from ? 0 : (rise[i - from] ?? 1);
}

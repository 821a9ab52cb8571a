/**
 * A symmetric matrix of m elements along a line, of which each leaves two states that later ones
 * read: below the diagonal A_ij = entry_i · T · exit_j, where T leads from j past the elements
 * between to i. A subset's matrix has the same form.
 */
export interface StateChain {
  /** m × 2: what an element makes of the states that come to it. */
  readonly entry: Float64Array;
  /** m × 2: the states that an element of size one leaves. */
  readonly exit: Float64Array;
  /** m × 2 × 2: from the states behind an element to those before the next. */
  readonly after: Float64Array;
  /** m × 2 × 2: from the states before an element to those behind it. */
  readonly across: Float64Array;
}

export interface Elimination {
  /** Elements, ascending. */
  readonly chosen: readonly number[];
  /** m entries on the diagonal. */
  readonly diagonal: Float64Array;
  /** r vectors of m entries. */
  readonly vectors: readonly Float64Array[];
}

export interface Eliminated {
  /** Of the chosen elements' matrix A. */
  readonly logDeterminant: number;
  /** aᵀ A⁻¹ b of each two vectors, r × r. */
  readonly products: Float64Array;
}

/** A pivot below this share of its diagonal entry has lost all its digits. */
const LOST = 1e-14;

/** From the states behind element `from` to those before element `to`, 2 × 2, into `into`. */
export function passage(
  { after, across }: StateChain,
  [from, to]: readonly [number, number],
  into: Float64Array,
): void {
  for (let i = 0; i < 4; i++) into[i] = after[4 * from + i]!;
  for (let k = from + 1; k < to; k++) {
    lead(across, 4 * k, into);
    lead(after, 4 * k, into);
  }
}

/** The 2 × 2 matrix at `at` times the one in `into`. */
function lead(steps: Float64Array, at: number, into: Float64Array): void {
  const e = steps[at]!;
  const f = steps[at + 1]!;
  const g = steps[at + 2]!;
  const h = steps[at + 3]!;
  for (let column = 0; column < 2; column++) {
    const x = into[column]!;
    const y = into[column + 2]!;
    into[column] = e * x + f * y;
    into[column + 2] = g * x + h * y;
  }
}

/** What the elements so far make of the states, and r vectors' parts in it. */
class States {
  /** The symmetric 2 × 2 matrix of what is known of both states. */
  first = 0;
  both = 0;
  second = 0;
  /** r × 2. */
  readonly told: Float64Array;

  constructor(r: number) {
    this.told = new Float64Array(2 * r);
  }

  /** On by the 2 × 2 matrix at `at`. */
  lead(steps: Float64Array, at: number): void {
    const { first, both, second, told } = this;
    const a = steps[at]!;
    const b = steps[at + 1]!;
    const c = steps[at + 2]!;
    const d = steps[at + 3]!;
    const p = a * first + b * both;
    const q = a * both + b * second;
    this.first = p * a + q * b;
    this.both = p * c + q * d;
    this.second = (c * first + d * both) * c + (c * both + d * second) * d;
    for (let k = 0; k < told.length; k += 2) {
      const x = told[k]!;
      const y = told[k + 1]!;
      told[k] = a * x + b * y;
      told[k + 1] = c * x + d * y;
    }
  }

  /** An element of this pivot, which leaves g and h of the states, and `left` of the vectors. */
  add(pivot: number, g: number, h: number, left: Float64Array): void {
    const { told } = this;
    this.first += pivot * g * g;
    this.both += pivot * g * h;
    this.second += pivot * h * h;
    for (let k = 0; k < left.length; k++) {
      told[2 * k]! += g * left[k]!;
      told[2 * k + 1]! += h * left[k]!;
    }
  }
}

/**
 * The determinant of the chosen elements' matrix and the products of vectors across its inverse, in
 * time that grows as the number of elements.
 *
 * Throws a RangeError where the matrix is not positive definite to working precision, NaN included.
 * Source: Foreman-Mackey et al. 2017, Fast and scalable Gaussian process modeling, section 5
 * (factors of a semiseparable matrix by a recursion over its rows).
 */
export function eliminate(
  chain: StateChain,
  { chosen, diagonal, vectors }: Elimination,
): Eliminated {
  const r = vectors.length;
  const states = new States(r);
  const left = new Float64Array(r);
  const products = new Float64Array(r * r);
  const way = new Float64Array(4);
  let [logDeterminant, before] = [0, -1];
  for (const at of chosen) {
    if (before >= 0) {
      passage(chain, [before, at], way);
      states.lead(way, 0);
    }
    const pivot = take(states, chain, { at, own: diagonal[at]!, vectors, left });
    logDeterminant += Math.log(pivot);
    for (let k = 0; k < r; k++) {
      const share = left[k]! / pivot;
      for (let l = 0; l <= k; l++) products[k * r + l]! += share * left[l]!;
    }
    before = at;
  }
  for (let k = 0; k < r; k++) {
    for (let l = 0; l < k; l++) products[l * r + k] = products[k * r + l]!;
  }
  return { logDeterminant, products };
}

interface Taken {
  readonly at: number;
  readonly own: number;
  readonly vectors: readonly Float64Array[];
  /** Written over: what those before leave of the vectors' entries. */
  readonly left: Float64Array;
}

/** Takes one element up into the states, and gives its pivot. */
function take(
  states: States,
  { entry, exit, across }: StateChain,
  { at, own, vectors, left }: Taken,
): number {
  const x = entry[2 * at]!;
  const y = entry[2 * at + 1]!;
  const one = states.first * x + states.both * y;
  const other = states.both * x + states.second * y;
  const pivot = own - x * one - y * other;
  if (!(pivot > LOST * own && pivot < Infinity)) {
    throw new RangeError(
      `the matrix is not positive definite: element ${at + 1} has the pivot ${pivot}`,
    );
  }
  const { told } = states;
  for (let k = 0; k < left.length; k++) {
    left[k] = vectors[k]![at]! - x * told[2 * k]! - y * told[2 * k + 1]!;
  }
  states.lead(across, 4 * at);
  const g = exit[2 * at]! - across[4 * at]! * one - across[4 * at + 1]! * other;
  const h = exit[2 * at + 1]! - across[4 * at + 2]! * one - across[4 * at + 3]! * other;
  states.add(pivot, g / pivot, h / pivot, left);
  return pivot;
}

/** The chosen elements' matrix, row by row. */
export function chainMatrix(
  chain: StateChain,
  { chosen, diagonal }: Omit<Elimination, "vectors">,
): Float64Array {
  const m = chosen.length;
  const matrix = new Float64Array(m * m);
  const t = new Float64Array(4);
  for (let j = 0; j < m; j++) {
    const own = chosen[j]!;
    matrix[j * m + j] = diagonal[own]!;
    for (let i = j + 1; i < m; i++) {
      passage(chain, [own, chosen[i]!], t);
      const at = 2 * chosen[i]!;
      const [x, y] = [chain.exit[2 * own]!, chain.exit[2 * own + 1]!];
      const product =
        chain.entry[at]! * (t[0]! * x + t[1]! * y) + chain.entry[at + 1]! * (t[2]! * x + t[3]! * y);
      matrix[i * m + j] = product;
      matrix[j * m + i] = product;
    }
  }
  return matrix;
}

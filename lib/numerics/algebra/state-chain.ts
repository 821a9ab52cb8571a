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

/** A symmetric 2 × 2 matrix over both states, and r vectors' parts in them. */
class States {
  first = 0;
  both = 0;
  second = 0;
  /** r × 2. */
  readonly told: Float64Array;

  constructor(most: number) {
    this.told = new Float64Array(2 * most);
  }

  clear(): void {
    this.first = this.both = this.second = 0;
    this.told.fill(0);
  }

  /** M S Mᵀ and M f by M = (a b; c d), r vectors. */
  lead(r: number, a: number, b: number, c: number, d: number): void {
    const { first, both, second, told } = this;
    const p = a * first + b * both;
    const q = a * both + b * second;
    this.first = p * a + q * b;
    this.both = p * c + q * d;
    this.second = (c * first + d * both) * c + (c * both + d * second) * d;
    for (let k = 0; k < 2 * r; k += 2) {
      const x = told[k]!;
      const y = told[k + 1]!;
      told[k] = a * x + b * y;
      told[k + 1] = c * x + d * y;
    }
  }

  /** Adds a share of (g, h)ᵀ (g, h). */
  add(share: number, g: number, h: number): void {
    this.first += share * g * g;
    this.both += share * g * h;
    this.second += share * h * h;
  }
}

/**
 * Eliminates chosen elements of a chain, in time that grows as their number. All columns are
 * written over by the next elimination: where very many small ones are made, new columns cost more
 * than the sums.
 *
 * Source: Foreman-Mackey et al. 2017, Fast and scalable Gaussian process modeling, section 5
 * (factors of a semiseparable matrix by a recursion over its rows).
 */
export class ChainElimination {
  /** Of the chosen elements' matrix A. */
  logDeterminant = 0;
  /** aᵀ A⁻¹ b of each two vectors, r × r. */
  readonly products: Float64Array;
  /** By chosen element: A⁻¹ a of each vector, r numbers, and A⁻¹ on the diagonal; see `invert`. */
  readonly solved: Float64Array;
  readonly inverse: Float64Array;
  private readonly states: States;
  private readonly pivot: Float64Array;
  /** × 2: what an element adds to the states behind it for each unit that is left of a vector. */
  private readonly gain: Float64Array;
  /** × r. */
  private readonly left: Float64Array;
  private readonly way = new Float64Array(4);

  /** For so many elements and vectors at the most. */
  constructor(elements: number, vectors: number) {
    this.products = new Float64Array(vectors * vectors);
    [this.solved, this.left] = [
      new Float64Array(elements * vectors),
      new Float64Array(elements * vectors),
    ];
    [this.inverse, this.pivot] = [new Float64Array(elements), new Float64Array(elements)];
    this.gain = new Float64Array(2 * elements);
    this.states = new States(vectors);
  }

  /**
   * Fills the determinant and the products.
   *
   * Throws a RangeError where A is not positive definite to working precision, NaN included.
   */
  run(chain: StateChain, elimination: Elimination): this {
    const { chosen, vectors } = elimination;
    const { states, products, left, pivot, way } = this;
    const r = vectors.length;
    this.logDeterminant = 0;
    products.fill(0);
    states.clear();
    for (let i = 0; i < chosen.length; i++) {
      if (i > 0) {
        passage(chain, [chosen[i - 1]!, chosen[i]!], way);
        states.lead(r, way[0]!, way[1]!, way[2]!, way[3]!);
      }
      this.take(chain, elimination, i);
      this.logDeterminant += Math.log(pivot[i]!);
      for (let k = 0; k < r; k++) {
        const share = left[i * r + k]! / pivot[i]!;
        for (let l = 0; l <= k; l++) products[k * r + l]! += share * left[i * r + l]!;
      }
    }
    for (let k = 0; k < r; k++) {
      for (let l = 0; l < k; l++) products[l * r + k] = products[k * r + l]!;
    }
    return this;
  }

  /** Takes one element up into the states. */
  private take(
    { entry, exit, across }: StateChain,
    { chosen, diagonal, vectors }: Elimination,
    i: number,
  ): void {
    const { states, left, gain } = this;
    const { told } = states;
    const r = vectors.length;
    const at = chosen[i]!;
    const x = entry[2 * at]!;
    const y = entry[2 * at + 1]!;
    const one = states.first * x + states.both * y;
    const other = states.both * x + states.second * y;
    const own = diagonal[at]!;
    const pivot = own - x * one - y * other;
    if (!(pivot > LOST * own && pivot < Infinity)) {
      throw new RangeError(
        `the matrix is not positive definite: element ${at + 1} has the pivot ${pivot}`,
      );
    }
    for (let k = 0; k < r; k++) {
      left[i * r + k] = vectors[k]![at]! - x * told[2 * k]! - y * told[2 * k + 1]!;
    }
    const a = across[4 * at]!;
    const b = across[4 * at + 1]!;
    const c = across[4 * at + 2]!;
    const d = across[4 * at + 3]!;
    states.lead(r, a, b, c, d);
    const g = (exit[2 * at]! - a * one - b * other) / pivot;
    const h = (exit[2 * at + 1]! - c * one - d * other) / pivot;
    states.add(pivot, g, h);
    for (let k = 0; k < r; k++) {
      told[2 * k]! += g * left[i * r + k]!;
      told[2 * k + 1]! += h * left[i * r + k]!;
    }
    this.pivot[i] = pivot;
    gain[2 * i] = g;
    gain[2 * i + 1] = h;
  }

  /** Fills `solved` and `inverse` after a run, from the last element to the first. */
  invert({ entry, across, ...chain }: StateChain, { chosen, vectors }: Elimination): this {
    const { states, solved, inverse, pivot, gain, left, way } = this;
    const { told } = states;
    const r = vectors.length;
    states.clear();
    for (let i = chosen.length - 1; i >= 0; i--) {
      const at = chosen[i]!;
      const [x, y] = [entry[2 * at]!, entry[2 * at + 1]!];
      const [g, h] = [gain[2 * i]!, gain[2 * i + 1]!];
      const { first, both, second } = states;
      inverse[i] = 1 / pivot[i]! + g * g * first + 2 * g * h * both + h * h * second;
      for (let k = 0; k < r; k++) {
        const own = left[i * r + k]! / pivot[i]!;
        solved[i * r + k] = own - g * told[2 * k]! - h * told[2 * k + 1]!;
      }
      const [a, b] = [across[4 * at]!, across[4 * at + 1]!];
      const [c, d] = [across[4 * at + 2]!, across[4 * at + 3]!];
      // What vectors tell passes the element as it is, what is known of the states less its own.
      states.lead(r, a, c, b, d);
      for (let k = 0; k < r; k++) {
        told[2 * k]! += x * solved[i * r + k]!;
        told[2 * k + 1]! += y * solved[i * r + k]!;
      }
      [states.first, states.both, states.second] = [first, both, second];
      states.lead(0, a - g * x, c - h * x, b - g * y, d - h * y);
      states.add(1 / pivot[i]!, x, y);
      if (i === 0) break;
      passage({ entry, across, ...chain }, [chosen[i - 1]!, at], way);
      states.lead(r, way[0]!, way[2]!, way[1]!, way[3]!);
    }
    return this;
  }
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

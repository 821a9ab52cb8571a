/**
 * Solves M x = b by generalised minimal residuals (Saad & Schultz 1986), without restart.
 *
 * `multiply` gives M times a vector. Stops where the residual has fallen to `tolerance` times that
 * of x = 0, or after as many steps as unknowns or `maxSteps`. Meant for M that is the identity and
 * a smoothing operator, where a dozen steps do.
 */
export function minimalResidual(
  multiply: (x: Float64Array) => Float64Array,
  b: Float64Array,
  { tolerance, maxSteps }: { readonly tolerance: number; readonly maxSteps: number },
): Float64Array {
  const size = norm(b);
  if (size === 0) return new Float64Array(b.length);
  const basis = [b.map((value) => value / size)];
  const columns: number[][] = [];
  const turns: (readonly [number, number])[] = [];
  const rest = [size];
  const steps = Math.min(maxSteps, b.length);
  while (columns.length < steps && Math.abs(rest.at(-1)!) > tolerance * size) {
    const next = multiply(basis.at(-1)!);
    const column = orthogonalise(next, basis);
    const length = norm(next);
    for (const [i, turn] of turns.entries()) rotate(column, i, turn);
    const radius = Math.hypot(column.at(-1)!, length);
    const turn = [column.at(-1)! / radius, length / radius] as const;
    turns.push(turn);
    column[column.length - 1] = radius;
    columns.push(column);
    rest.push(-turn[1] * rest.at(-1)!);
    rest[rest.length - 2] = turn[0] * rest.at(-2)!;
    if (length === 0) break;
    basis.push(next.map((value) => value / length));
  }
  return combine(basis, backSubstitute(columns, rest), b.length);
}

/** Takes the parts along the basis out of `vector`, in place, and returns them. */
function orthogonalise(vector: Float64Array, basis: readonly Float64Array[]): number[] {
  return basis.map((direction) => {
    let part = 0;
    for (let i = 0; i < vector.length; i++) part += vector[i]! * direction[i]!;
    for (let i = 0; i < vector.length; i++) vector[i] = vector[i]! - part * direction[i]!;
    return part;
  });
}

function rotate(column: number[], i: number, [c, s]: readonly [number, number]): void {
  const [upper, lower] = [column[i]!, column[i + 1]!];
  column[i] = c * upper + s * lower;
  column[i + 1] = c * lower - s * upper;
}

function backSubstitute(columns: readonly number[][], rhs: readonly number[]): number[] {
  const y = new Array<number>(columns.length).fill(0);
  for (let i = columns.length - 1; i >= 0; i--) {
    let sum = rhs[i]!;
    for (let j = i + 1; j < columns.length; j++) sum -= columns[j]![i]! * y[j]!;
    y[i] = sum / columns[i]![i]!;
  }
  return y;
}

function combine(basis: readonly Float64Array[], y: readonly number[], n: number): Float64Array {
  const x = new Float64Array(n);
  for (const [j, share] of y.entries()) {
    for (let i = 0; i < n; i++) x[i] = x[i]! + share * basis[j]![i]!;
  }
  return x;
}

function norm(x: Float64Array): number {
  return Math.sqrt(x.reduce((sum, value) => sum + value * value, 0));
}

/** Inner product of two vectors; the second may be longer. */
export function dot(one: Float64Array, other: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < one.length; i++) sum += one[i]! * other[i]!;
  return sum;
}

/** Inner products of the rows of a c × m matrix with each other, c × c row by row. */
export function rowProducts(matrix: Float64Array, c: number): Float64Array {
  const m = matrix.length / c;
  const row = (a: number) => matrix.subarray(a * m, (a + 1) * m);
  return Float64Array.from({ length: c * c }, (_, at) => dot(row(Math.floor(at / c)), row(at % c)));
}

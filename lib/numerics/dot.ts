/** Inner product of two vectors; the second may be longer. */
export function dot(one: Float64Array, other: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < one.length; i++) sum += one[i]! * other[i]!;
  return sum;
}

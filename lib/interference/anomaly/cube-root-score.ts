/**
 * A mean square of so many degrees of freedom as a standard normal score (Wilson & Hilferty 1931).
 */
export function cubeRootScore(meanSquare: number, freedom: number): number {
  const variance = 2 / (9 * freedom);
  return (Math.cbrt(meanSquare) - (1 - variance)) / Math.sqrt(variance);
}

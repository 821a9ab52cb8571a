/** How changes of a layered ground and of the coils' height move c channels. */
export interface GroundChanges {
  /** For each layer, the change of the channels by one standard change of its conductivity. */
  readonly layers: readonly Float64Array[];
  /** Layer tops in coil separations. */
  readonly tops: readonly number[];
  /** Change of the channels by one standard change of height. */
  readonly bob: Float64Array;
}

/** Adds the c × c covariance of the changes over `divisor`; layers within `link` vary together. */
export function addLayeredCovariance(
  covariance: Float64Array,
  { layers, tops, bob }: GroundChanges,
  { link, divisor }: { readonly link: number; readonly divisor: number },
): void {
  addProduct(covariance, [bob, bob], 1 / divisor);
  for (const [l, one] of layers.entries()) {
    for (const [m, other] of layers.entries()) {
      const correlation = Math.exp(-Math.abs(tops[l]! - tops[m]!) / link);
      addProduct(covariance, [one, other], correlation / divisor);
    }
  }
}

/** Adds `weight` of the c × c product of two vectors. */
export function addProduct(
  covariance: Float64Array,
  [one, other]: readonly [Float64Array, Float64Array],
  weight: number,
): void {
  const count = one.length;
  for (let a = 0; a < count; a++) {
    for (let b = 0; b < count; b++) covariance[a * count + b]! += weight * one[a]! * other[b]!;
  }
}

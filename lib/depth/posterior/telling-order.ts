import type { Directions } from "./directions.js";

/** Members that the order of the channels is judged by. */
const JUDGED = 500;

/**
 * Channels, those first that part the members most for their noise once the ones before have been
 * seen: pivoted elimination on the covariance of the members' values over the noise.
 */
export function tellingOrder(
  { responses, channels: width, ensemble }: Directions,
  sd: Float64Array,
  channels: readonly number[],
): Int32Array {
  const c = channels.length;
  const members = Math.min(JUDGED, ensemble.count);
  const mean = new Float64Array(c);
  const covariance = new Float64Array(c * c);
  const overNoise = (k: number, i: number) =>
    responses.value[k * width + channels[i]!]! / sd[channels[i]!]!;
  for (let k = 0; k < members; k++) {
    for (let i = 0; i < c; i++) mean[i]! += overNoise(k, i) / members;
  }
  for (let k = 0; k < members; k++) {
    for (let i = 0; i < c; i++) {
      const off = (overNoise(k, i) - mean[i]!) / members;
      for (let j = 0; j < c; j++) covariance[i * c + j]! += off * (overNoise(k, j) - mean[j]!);
    }
  }
  for (let i = 0; i < c; i++) covariance[i * c + i]! += 1;
  return Int32Array.from(pivots(covariance, c), (i) => channels[i]!);
}

function pivots(covariance: Float64Array, c: number): number[] {
  const left = Array.from({ length: c }, (_, i) => i);
  const order: number[] = [];
  while (left.length > 0) {
    left.sort((i, j) => covariance[j * c + j]! - covariance[i * c + i]!);
    const p = left.shift()!;
    order.push(p);
    for (const i of left) {
      const share = covariance[i * c + p]! / covariance[p * c + p]!;
      for (const j of left) covariance[i * c + j]! -= share * covariance[p * c + j]!;
    }
  }
  return order;
}

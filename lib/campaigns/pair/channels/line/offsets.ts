import type { LineInput } from "./line-input.js";

/** Coils that were carried higher in one campaign than in the other, on a part of the line. */
export interface Offset {
  readonly first: number;
  readonly last: number;
  readonly kind: "height" | "zero";
  /** By walk, m higher in the later campaign than stated; for "zero", by channel, ppm. */
  readonly value: Float64Array;
}

/** The offsets with the values of a fit that was linear about their own. */
export function refined(offsets: readonly Offset[], fit: Float64Array): readonly Offset[] {
  let at = 0;
  return offsets.map((one) => ({
    ...one,
    value: one.value.map(() =>
      Math.max(-0.5 * scaleOf(one), Math.min(0.5 * scaleOf(one), fit[at++]!)),
    ),
  }));
}

/** Heights stay within half a metre; zeros within what any instrument shows. */
const scaleOf = ({ kind }: Offset) => (kind === "height" ? 1 : 1e4);

/** Adds what an offset makes of the stations that it covers, n × q over noise. */
export function addOffset(
  { pair, response, noise }: LineInput,
  one: Offset,
  out: Float64Array,
): void {
  const q = pair.channels.length;
  for (let c = 0; c < q; c++) {
    const own = one.value[one.kind === "zero" ? c : pair.channels[c]!.pass]!;
    for (let at = one.first * q + c; at < (one.last + 1) * q; at += q) {
      const ppm =
        one.kind === "zero" ? own : own * response.first[at]! + own * own * response.second[at]!;
      out[at]! += ppm / noise[at]!;
    }
  }
}

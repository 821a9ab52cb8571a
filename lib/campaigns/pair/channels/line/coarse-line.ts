import type { LineInput } from "./line-input.js";
import type { Offset } from "./offsets.js";

/** The line in means over `every` stations: for fits and searches that need no better place. */
export function coarseLine(input: LineInput, every: number): LineInput {
  const { pair, response, noise, quality } = input;
  const q = pair.channels.length;
  const m = response.top_m.length;
  const n = pair.chainage_m.length;
  const count = Math.ceil(n / every);
  const column = (values: Float64Array) => meansOf(values, 1, every);
  const channels = pair.channels.map((one) => ({
    ...one,
    earlier: column(one.earlier),
    difference: column(one.difference),
    noise: column(one.noise).map((sd) => sd / Math.sqrt(every)),
    shiftSd_m: column(one.shiftSd_m),
  }));
  return {
    pair: {
      ...pair,
      chainage_m: column(pair.chainage_m),
      spacing_m: pair.spacing_m * every,
      channels,
    },
    response: {
      ...response,
      expected: meansOf(response.expected, q, every),
      byLayer: meansOf(response.byLayer, q * m, every),
      seasonError: meansOf(response.seasonError, q, every),
      first: meansOf(response.first, q, every),
      second: meansOf(response.second, q, every),
      firstError: meansOf(response.firstError, q, every),
    },
    noise: meansOf(noise, q, every).map((sd) => sd / Math.sqrt(every)),
    quality: Float64Array.from({ length: count }, (_, i) =>
      Math.max(...quality.subarray(i * every, Math.min(n, (i + 1) * every))),
    ),
    level: input.level,
  };
}

/** Means of rows of `width`, what is missing left out. */
function meansOf(values: Float64Array, width: number, every: number): Float64Array {
  const rows = values.length / width;
  const out = new Float64Array(Math.ceil(rows / every) * width);
  for (let at = 0; at < out.length; at++) {
    const first = Math.floor(at / width) * every;
    const last = Math.min(rows, first + every) - 1;
    let sum = 0;
    let count = 0;
    for (let i = first; i <= last; i++) {
      const v = values[i * width + (at % width)]!;
      if (Number.isNaN(v)) continue;
      sum += v;
      count++;
    }
    out[at] = sum / count;
  }
  return out;
}

/** An offset by the blocks that lie in it by half or more. */
export function coarsened(one: Offset, every: number): Offset {
  const first = Math.round(one.first / every);
  const last = Math.max(first, Math.round((one.last + 1) / every) - 1);
  return { ...one, first, last };
}

import { itemAt } from "../../../../numerics/arrays.js";
import { presentMean } from "../../../../numerics/statistics/present.js";
import type { LineInput } from "./line-input.js";
import type { Offset } from "./offsets.js";

/** Prior standard deviations of what the instrument and the season do to a whole line. */
const PRIOR = { zero_ppm: 50, gain: 0.05, height_m: 0.1, season: 0.1 };

/** Depth to which the year's temperature falls to 1/e, m (common practice: 2 to 2.5 m). */
const DAMPING_M = 2.2;
const wave = (of: (phase: number) => number) => (depth_m: number) =>
  Math.exp(-depth_m / DAMPING_M) * of(depth_m / DAMPING_M);

/** What soil temperatures may be wrong by, by depth: a level, and amplitude and phase of the year. */
const SEASONS: readonly ((depth_m: number) => number)[] = [() => 1, wave(Math.cos), wave(Math.sin)];

/** An error of instrument or walk on all of the line or a part of it. */
export interface Unknown {
  /** Numbers of the k channels that it enters. */
  readonly channels: readonly number[];
  /** n × k in noise units: the residual of these for one unit. */
  readonly column: Float64Array;
  readonly sd: number;
}

/** Zero and gain of each channel, height of each walk, season by depth: alike along the line. */
export function lineColumns(input: LineInput): readonly Unknown[] {
  if (input.level === "none") return [];
  const { pair } = input;
  const whole = { first: 0, last: pair.chainage_m.length - 1 };
  const walks = new Float64Array(pair.passes);
  return [
    ...pair.channels.map((_, c) => zeroColumn(input, c, whole)),
    ...pair.channels.map((_, c) => gainColumn(input, c)),
    ...Array.from(walks.keys(), (walk) => heightColumn(input, walk, { ...whole, value: walks })),
    ...SEASONS.map((by) => seasonColumn(input, by)),
  ];
}

export function offsetColumns(input: LineInput, offsets: readonly Offset[]): readonly Unknown[] {
  return offsets.flatMap((one) =>
    Array.from(one.value.keys(), (k) =>
      one.kind === "zero" ? zeroColumn(input, k, one) : heightColumn(input, k, one),
    ),
  );
}

type Part = Pick<Offset, "first" | "last">;

interface Entered {
  readonly channels: readonly number[];
  readonly part: Part;
}

function columnOf(
  { pair, noise }: LineInput,
  { channels, part }: Entered,
  ppm: (i: number, c: number) => number,
): Float64Array {
  const [q, k] = [pair.channels.length, channels.length];
  const column = new Float64Array((noise.length / q) * k);
  for (let i = part.first; i <= part.last; i++) {
    for (let j = 0; j < k; j++) {
      const c = channels[j]!;
      column[i * k + j] = ppm(i, c) / noise[i * q + c]!;
    }
  }
  return column;
}

function zeroColumn(input: LineInput, channel: number, part: Part): Unknown {
  const channels = [channel];
  return { channels, column: columnOf(input, { channels, part }, () => 1), sd: PRIOR.zero_ppm };
}

/** The gain acts on the reading; its noise would bias the gain, so a mean over neighbours is taken. */
function gainColumn(input: LineInput, channel: number): Unknown {
  const { earlier } = itemAt(input.pair.channels, channel);
  const n = earlier.length;
  const smooth = earlier.map((_, i) =>
    presentMean(earlier.subarray(Math.max(0, i - 2), Math.min(n, i + 3))),
  );
  const channels = [channel];
  const part = { first: 0, last: n - 1 };
  const column = columnOf(input, { channels, part }, (i) => smooth[i]!);
  return { channels, column, sd: PRIOR.gain };
}

function heightColumn(
  input: LineInput,
  walk: number,
  part: Part & { readonly value: Float64Array },
): Unknown {
  const { first, second } = input.response;
  const q = input.pair.channels.length;
  const h = itemAt(part.value, walk);
  const channels = [...input.pair.channels.keys()].filter(
    (c) => itemAt(input.pair.channels, c).pass === walk,
  );
  const column = columnOf(
    input,
    { channels, part },
    (i, c) => first[i * q + c]! + h * second[i * q + c]!,
  );
  return { channels, column, sd: PRIOR.height_m };
}

function seasonColumn(input: LineInput, by: (depth_m: number) => number): Unknown {
  const { byLayer, top_m } = input.response;
  const m = top_m.length;
  const weight = top_m.map((top, j) => by(j + 1 < m ? (top + top_m[j + 1]!) / 2 : top + 1));
  const q = input.pair.channels.length;
  const channels = [...input.pair.channels.keys()];
  const part = { first: 0, last: input.pair.chainage_m.length - 1 };
  const column = columnOf(input, { channels, part }, (i, c) => {
    let sum = 0;
    for (let j = 0; j < m; j++) sum += byLayer[(i * q + c) * m + j]! * weight[j]!;
    return sum;
  });
  return { channels, column, sd: PRIOR.season };
}

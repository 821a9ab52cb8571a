import type { Unknown } from "./line-unknowns.js";

/** Unknowns of a line, station by station, as normal equations take them. */
export interface Design {
  readonly unknowns: readonly Unknown[];
  /** Of the unknowns at the beginning that enter one channel each: n values; 0 for NaN. */
  readonly single: readonly Float64Array[];
  /** n rows of `width`: the values of all unknowns, and the channel of each. */
  readonly rows: Float64Array;
  readonly width: number;
  readonly channel: Int32Array;
  /** Where the values of each unknown stand in them. */
  readonly values: readonly UnknownRows[];
}

/** n rows of `width`: the values of an unknown, from its place on, for its channels; 0 for NaN. */
export interface UnknownRows {
  readonly rows: Float64Array;
  readonly width: number;
  readonly place: number;
  readonly channels: Int32Array;
}

export function designOf(unknowns: readonly Unknown[], n: number): Design {
  const channel = Int32Array.from(unknowns.flatMap(({ channels }) => channels));
  const width = channel.length;
  const rows = new Float64Array(n * width);
  let place = 0;
  const values = unknowns.map((one) => {
    const own = { rows, width, place, channels: Int32Array.from(one.channels) };
    place += own.channels.length;
    return filled(own, one.column);
  });
  const several = unknowns.findIndex(({ channels }) => channels.length > 1);
  const single = unknowns
    .slice(0, several < 0 ? unknowns.length : several)
    .map(({ column }) => column.map((v) => v || 0));
  return { unknowns, single, rows, width, channel, values };
}

/** An unknown by itself. */
export function unknownRows({ channels, column }: Unknown): UnknownRows {
  const width = channels.length;
  const rows = new Float64Array(column.length);
  return filled({ rows, width, place: 0, channels: Int32Array.from(channels) }, column);
}

function filled(into: UnknownRows, column: Float64Array): UnknownRows {
  const { rows, width, place, channels } = into;
  const k = channels.length;
  for (let i = 0; i * k < column.length; i++) {
    for (let j = 0; j < k; j++) rows[i * width + place + j] = column[i * k + j]! || 0;
  }
  return into;
}

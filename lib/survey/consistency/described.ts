import { ppmPerUnit } from "../../earth/channel-sensitivities.js";
import { itemAt } from "../../numerics/arrays.js";
import type { Channel } from "../instrument.js";

/** What a column of readings is taken for: the declared channel, or another that may be meant. */
export interface Described extends Channel {
  /** The files that it stands in. */
  readonly source: string;
  /** Which column of the stations holds its readings. */
  readonly column: number;
  /** The readings are taken times this. */
  readonly factor: number;
}

/** Parts per million that 1 of the channel's unit, as it stands in the file, stands for. */
export function ppmOf({ factor, ...channel }: Described): number {
  return factor * ppmPerUnit(channel);
}

/** The channels as they are declared, with the files that each stands in. */
export function asDeclared(
  channels: readonly Channel[],
  sources: readonly string[],
): readonly Described[] {
  return channels.map((channel, column) => {
    return { ...channel, source: itemAt(sources, column), column, factor: 1 };
  });
}

import type { Stations } from "../data/gather-stations.js";

/** By channel, what the shape's correction leaves in doubt at a station, share of the response. */
export function factorSdAt({ bank, channels }: Stations, station: number): Float64Array {
  const shape = bank?.shapes.of[station] ?? -1;
  return bank === undefined || shape < 0 ? new Float64Array(channels.length) : bank.factorSd(shape);
}

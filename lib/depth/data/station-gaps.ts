import { itemAt } from "../../numerics/arrays.js";
import type { Stations } from "./gather-stations.js";

/** Why stations have no estimate: "" where they have one; with its cause where set aside. */
export interface StationGaps {
  readonly gap: readonly ("" | "set aside" | "no readings")[];
  readonly gapCause: readonly string[];
}

/** A station needs readings in use of a share of the channels. */
export function stationGaps(stations: Stations, share: number): StationGaps {
  const { channels, present, cause } = stations;
  const gap = Array.from(present, (readings, i) => {
    const inUse = channels.filter((entry) => itemAt(entry.count, i) > 0).length;
    if (inUse > 0 && inUse >= share * channels.length) return "";
    return readings > 0 ? "set aside" : "no readings";
  });
  return { gap, gapCause: cause.map((text, i) => (gap[i] === "set aside" ? text : "")) };
}

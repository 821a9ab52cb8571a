import { valueAt } from "../../../numerics/arrays.js";
import type { Campaign } from "../../../survey/survey.js";
import { gatherStations, type Stations } from "../../data/gather-stations.js";
import { type MergedChannel, mergeChannels } from "./merged-channels.js";
import type { NominalView } from "./nominal.js";
import { nominalChannels, typicalPlace } from "./nominal-channels.js";
import type { NominalOptions } from "./options.js";

/** The campaign's channels at its stations, at their nominal depths. */
export function nominalViewOf(campaign: Campaign, used: NominalOptions): NominalView {
  const stations = gatherStations(campaign, used.spacing_m);
  const merged = mergeChannels(stations);
  const place = typicalPlace(merged, stations);
  return {
    campaign: campaign.label,
    chainage_m: stations.chainage_m,
    spacing_m: used.spacing_m,
    ...nominalChannels(merged, place, used),
    ground_mS_per_m: 1000 * place.ground_S_per_m,
    height_m: place.height_m,
    gap: gapsOf(stations, merged),
  };
}

/** Why a station has no channel at all. */
function gapsOf(stations: Stations, merged: readonly MergedChannel[]): string[] {
  return Array.from(stations.present, (readings, i) => {
    if (merged.some(({ apparent }) => !Number.isNaN(valueAt(apparent, i)))) return "";
    return readings > 0 ? stations.cause[i] || "set aside" : "no readings";
  });
}

import { comparedSlices } from "./by-slices.js";
import { comparedByChannels } from "./channels/by-channels.js";
import type { CampaignPair } from "./check-pair.js";
import type { Comparison } from "./compared.js";
import type { CompareOptions } from "./options.js";

/** By the channels that both walked; by the depth slices where they share none. */
export function comparison(pair: CampaignPair, used: CompareOptions): Comparison {
  return comparedByChannels(pair, used) ?? comparedSlices(pair, used);
}

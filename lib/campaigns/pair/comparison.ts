import { comparedSlices } from "./by-slices.js";
import type { Changes } from "./changes.js";
import { comparedByChannels } from "./channels/by-channels.js";
import type { CampaignPair } from "./check-pair.js";
import type { CompareOptions } from "./options.js";

/** Two campaigns compared, with what the account needs beside the value. */
export interface Comparison {
  readonly value: Changes;
  /** True where both campaigns were taken to 25 °C. */
  readonly corrected: boolean;
  /** What is particular to the way they were compared. */
  readonly cautions: readonly string[];
}

/** By the channels that both walked; by the depth slices where they share none. */
export function comparison(pair: CampaignPair, used: CompareOptions): Comparison {
  return comparedByChannels(pair, used) ?? comparedSlices(pair, used);
}

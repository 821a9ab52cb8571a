import { depthSlicesFaults } from "../../depth/check-depth-slices.js";
import type { DepthSlices } from "../../depth/depth-slices.js";
import type { Fault } from "../../step/step-error.js";
import { spacingFault } from "../check-campaigns.js";

export interface CampaignPair {
  readonly earlier: DepthSlices;
  readonly later: DepthSlices;
}

/** Every fault of two campaigns, each for itself and of the one beside the other. */
export function pairFaults({ earlier, later }: CampaignPair): readonly Fault[] {
  return [
    ...depthSlicesFaults(earlier, "earlier"),
    ...depthSlicesFaults(later, "later"),
    ...spacingFault(later, "later", { spacing_m: earlier.spacing_m, which: "earlier" }),
    ...orderFault({ earlier, later }),
  ];
}

function orderFault({ earlier, later }: CampaignPair): Fault[] {
  if (!(later.time_s < earlier.time_s)) return [];
  const expected = `not before the earlier campaign (${earlier.campaign})`;
  const hint = "the two campaigns look swapped";
  return [{ code: "order", path: "later", expected, received: later.campaign, hint }];
}

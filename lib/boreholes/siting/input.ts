import type { Blocks } from "../../blocks/blocks.js";
import type { Change } from "../../campaigns/pair/changes.js";
import type { DepthSlices } from "../../depth/depth-slices.js";
import type { Masked } from "../../interference/masked.js";
import type { SeepageZone } from "../../seepage/seepage.js";
import type { Survey } from "../../survey/survey.js";
import type { Soils } from "../soils/soils.js";

/** Everything that siting rests on, as plain values. */
export interface SitingInput {
  readonly survey: Survey;
  readonly slices: DepthSlices;
  readonly blocks: Blocks | null;
  readonly zones: readonly SeepageZone[];
  readonly changes: readonly Change[];
  readonly masked: readonly Pick<Masked, "interference" | "unexplained">[];
  readonly soils: Soils | null;
}

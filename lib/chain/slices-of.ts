import type { DepthSlices } from "../depth/depth-slices.js";
import { estimateDepthSlices } from "../depth/estimate-depth-slices.js";
import type { StepResult } from "../step/step-result.js";

/** Slices of every campaign: the first one's own, which the others then share. */
export async function slicesOf(
  campaigns: readonly Parameters<typeof estimateDepthSlices>[0][],
  options: Parameters<typeof estimateDepthSlices>[1] = {},
): Promise<StepResult<DepthSlices>[]> {
  const results: StepResult<DepthSlices>[] = [];
  for (const campaign of campaigns) {
    const first = results[0]?.value.slices;
    const shared = first === undefined || first.length === 0 ? {} : { slices: first };
    results.push(await estimateDepthSlices(campaign, { ...shared, ...options }));
  }
  return results;
}

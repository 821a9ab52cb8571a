import { segmentBlocks } from "../blocks/segment-blocks.js";
import { compareCampaigns } from "../campaigns/pair/compare-campaigns.js";
import type { Slice } from "../depth/depth-slices.js";
import type { DepthOptions } from "../depth/options.js";
import { decidedOptions } from "./decided-options.js";
import { blocksText, stretchesText } from "./effect-text.js";
import { slicesOf } from "./slices-of.js";
import type { Work } from "./work.js";

/** What other options of the inversion make of slices, blocks and changes. */
export async function depthEffect(work: Work, options: Partial<DepthOptions>): Promise<string> {
  const tried = await slicesOf(work.masked, options);
  const at = work.slices.findIndex((one) => one.value.campaign === work.blocks.value.campaign);
  const [before, after] = [work.slices[at]?.value.slices, tried[at]?.value.slices];
  if (before === undefined || after === undefined) return "No campaign to try.";
  if (after.length === 0) return "No slice is known; nothing rests on the readings.";
  const blocks = segmentBlocks(tried[at]!, decidedOptions(work.decisions, "segmentBlocks"));
  const compare = decidedOptions(work.decisions, "compareCampaigns");
  const changes = tried
    .slice(1)
    .flatMap((later, i) => compareCampaigns(tried[i]!, later, compare).value.changes);
  const [was, is] = [
    stretchesText(work.changes.flatMap((one) => one.value.changes)),
    stretchesText(changes),
  ];
  const effect = blocksText(work.blocks.value.blocks, blocks.value.blocks);
  const same = slicesText(before) === slicesText(after);
  if (same && was === is && effect.startsWith("Nothing changes")) {
    return `Nothing changes: slices ${slicesText(after)}, blocks, changes ${is}.`;
  }
  return [
    same
      ? `Slices as before (${slicesText(after)}).`
      : `Slices ${slicesText(after)}, instead of ${slicesText(before)}.`,
    `Blocks: ${effect}`,
    was === is ? `Changes: the same (${was}).` : `Changes: ${is}, instead of ${was}.`,
  ].join(" ");
}

function slicesText(slices: readonly Slice[]): string {
  const depths = slices.map(({ top_m, base_m }) => `${top_m.toFixed(1)}–${base_m.toFixed(1)}`);
  return `${depths.join(", ")} m`;
}

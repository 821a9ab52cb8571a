import { BLOCKS, type Block, CHANGES, type Change, LENS, SPRING_MOISTURE } from "./blocks.js";
import { CAMPAIGNS, type CampaignLabel } from "./facts.js";
import { makeGrain } from "./grain.js";
import { conductivityFactor, soilTemperature_degC } from "./temperature.js";

/** The ground under the crest as continuous functions of chainage and depth. */
export interface Ground {
  /** ohm-m at 25 °C. */
  resistivity25(chainage_m: number, depth_m: number, campaign: CampaignLabel): number;
  /** ohm-m at the soil temperature of the campaign's day. */
  resistivity(chainage_m: number, depth_m: number, campaign: CampaignLabel): number;
  /** Field over 25 °C resistivity at a depth below the surface. */
  coldness(depth_m: number, campaign: CampaignLabel): number;
}

export function makeGround(): Ground {
  const grain = makeGrain("grain");
  const days = new Map(CAMPAIGNS.map((c) => [c.label, Date.parse(c.start)]));
  const resistivity25: Ground["resistivity25"] = (chainage_m, depth_m, campaign) => {
    const made = Math.exp(lensed(chainage_m, depth_m) + grain(chainage_m, depth_m));
    return campaign === "2031-10" ? made : made / springRatio(chainage_m, depth_m);
  };
  const coldness: Ground["coldness"] = (depth_m, campaign) =>
    conductivityFactor(soilTemperature_degC(depth_m, days.get(campaign)!));
  return {
    resistivity25,
    coldness,
    resistivity: (chainage_m, depth_m, campaign) =>
      resistivity25(chainage_m, depth_m, campaign) * coldness(depth_m, campaign),
  };
}

function lensed(chainage_m: number, depth_m: number): number {
  const host = blended(chainage_m, depth_m);
  if (!(depth_m >= LENS.top_m && depth_m < LENS.base_m)) return host;
  const share = plateau(chainage_m, LENS);
  return host * (1 - share) + Math.log(LENS.resistivity_ohm_m) * share;
}

/** Log resistivity of the blocks, passing smoothly from each into the next. */
function blended(chainage_m: number, depth_m: number): number {
  const index = BLOCKS.findIndex((block) => chainage_m < block.to_m);
  const at = index < 0 ? BLOCKS.length - 1 : index;
  const block = BLOCKS[at]!;
  const before = BLOCKS[at - 1];
  const after = BLOCKS[at + 1];
  const half = (before?.transition_m ?? 0) / 2;
  if (before && chainage_m < block.from_m + half) {
    return mix(before, block, { chainage_m, depth_m });
  }
  if (after && chainage_m > block.to_m - block.transition_m / 2) {
    return mix(block, after, { chainage_m, depth_m });
  }
  return logOf(block, depth_m);
}

function mix(
  left: Block,
  right: Block,
  place: { readonly chainage_m: number; readonly depth_m: number },
): number {
  const along = (place.chainage_m - left.to_m) / left.transition_m + 0.5;
  const share = smooth(along);
  return logOf(left, place.depth_m) * (1 - share) + logOf(right, place.depth_m) * share;
}

function logOf(block: Block, depth_m: number): number {
  const layer = block.layers.find((one) => depth_m < one.base_m) ?? block.layers.at(-1)!;
  return Math.log(layer.resistivity_ohm_m);
}

/** Spring over autumn conductivity at 25 °C. */
function springRatio(chainage_m: number, depth_m: number): number {
  let log = depth_m < SPRING_MOISTURE.base_m ? Math.log(SPRING_MOISTURE.conductivityRatio) : 0;
  for (const change of CHANGES) log += changeAt(change, chainage_m, depth_m);
  return Math.exp(log);
}

function changeAt(change: Change, chainage_m: number, depth_m: number): number {
  if (!(depth_m >= change.top_m && depth_m < change.base_m)) return 0;
  return Math.log(change.conductivityRatio) * plateau(chainage_m, change);
}

/** 1 within a stretch, 0 outside, half at its two ends. */
function plateau(
  chainage_m: number,
  stretch: { readonly from_m: number; readonly to_m: number; readonly taper_m: number },
): number {
  const rise = smooth((chainage_m - stretch.from_m) / stretch.taper_m + 0.5);
  const fall = smooth((stretch.to_m - chainage_m) / stretch.taper_m + 0.5);
  return Math.min(rise, fall);
}

function smooth(share: number): number {
  const x = Math.min(1, Math.max(0, share));
  return x * x * (3 - 2 * x);
}

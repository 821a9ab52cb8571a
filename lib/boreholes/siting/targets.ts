import type { Block } from "../../blocks/blocks.js";
import { placeText } from "../../campaigns/ranges.js";
import { groupedBy, neighbours } from "../../numerics/arrays.js";
import type { SitingInput } from "./input.js";
import type { SitingOptions } from "./options.js";
import { toeSite } from "./places.js";
import type { HolePlace, PartName } from "./plan.js";

/** Something that the first hole within one of its stretches settles. */
export interface Target {
  readonly part: PartName;
  readonly within: readonly { readonly from_m: number; readonly to_m: number }[];
  readonly place: HolePlace;
  /** m of bank as weighed. */
  readonly worth_m: number;
  /** What a hole is for, in a few words. */
  readonly purpose: string;
  /** What it would settle, in a sentence. */
  readonly reason: string;
}

/**
 * One hole speaks for this much of a zone at the most, m: the closest first spacing along a bank.
 */
const SPOKEN_FOR_M = 61;

export function targetsOf(input: SitingInput, used: SitingOptions): readonly Target[] {
  const blocks = input.blocks?.blocks ?? [];
  const all = [
    ...blocks.map((block) => blockTarget(block, used.weights.block)),
    ...classTargets(blocks, used.weights.class),
    ...neighbours(blocks).map((pair) => boundaryTarget(pair, used)),
    ...input.zones.flatMap((zone) => zoneTargets(zone, input, used)),
    ...input.changes.map((change) => changeTarget(change, used.weights.change)),
  ];
  return all.filter(({ worth_m }) => worth_m > 0);
}

const length = ({ from_m, to_m }: Stretch) => to_m - from_m;

interface Stretch {
  readonly from_m: number;
  readonly to_m: number;
}

/** A hole near the end may stand outside of it: the middle nine tenths. */
function core({ from_m, to_m }: Stretch): Stretch {
  const edge_m = 0.05 * (to_m - from_m);
  return { from_m: from_m + edge_m, to_m: to_m - edge_m };
}

function blockTarget(block: Block, weight: number): Target {
  return {
    part: "block",
    within: [core(block)],
    place: "crest",
    worth_m: weight * length(block),
    purpose: `ground of block ${block.id} (class ${block.class})`,
    reason:
      `No borehole has met block ${block.id} (${placeText(block)}, class ${block.class}): what soil ` +
      "it is made of is told by resistivity alone.",
  };
}

function classTargets(blocks: readonly Block[], weight: number): readonly Target[] {
  return [...groupedBy(blocks, (block) => block.class)].map(([name, own]) => ({
    part: "class",
    within: own.map(core),
    place: "crest",
    worth_m: weight * own.reduce((sum, block) => sum + length(block), 0),
    purpose: `soil of class ${name}`,
    reason:
      `No borehole has met class ${name} (${own.map(({ id }) => id).join(", ")}): the hole would ` +
      "name its soil.",
  }));
}

/** Half the interval is what a hole in its middle leaves, whichever ground it meets. */
function boundaryTarget(
  [before, after]: readonly [Block, Block],
  { weights, step_m }: SitingOptions,
): Target {
  const [low, high] = after.fromInterval_m;
  const doubt = 1 - (after.fromProbability ?? 1);
  const shorter_m = Math.min(length(before), length(after));
  const half_m = Math.max(high - low, step_m) / 2;
  const middle_m = (low + high) / 2;
  const within = { from_m: middle_m - half_m, to_m: middle_m + half_m };
  const doubted = doubt > 0.01 ? `is ${(100 * (1 - doubt)).toFixed(0)} % sure and ` : "";
  return {
    part: "boundary",
    within: [within],
    place: "crest",
    worth_m: weights.boundary * ((high - low) / 2 + doubt * shorter_m),
    purpose: `boundary ${before.id}–${after.id}`,
    reason:
      `The boundary between ${before.id} and ${after.id} ${doubted}lies from ` +
      `${low.toFixed(0)} to ${high.toFixed(0)} m: whichever ground the hole meets halves that.`,
  };
}

type Zone = SitingInput["zones"][number];

/** Half of a zone's worth is settled from the crest, half at the toe, which no crest line sees. */
function zoneTargets(zone: Zone, input: SitingInput, used: SitingOptions): readonly Target[] {
  const middle_m = (zone.from_m + zone.to_m) / 2;
  const within = [core(zone)];
  const spoken_m = Math.min(length(zone), SPOKEN_FOR_M);
  const worth_m = (used.weights.seepage * zone.probability * spoken_m) / 2;
  const name = `seepage zone ${zone.rank} (${placeText(zone)}, ${zone.band})`;
  const crest: Target = {
    ...{ part: "seepage", within, place: "crest", worth_m },
    purpose: `bank and ground in seepage zone ${zone.rank}`,
    reason:
      `In ${name} the hole would show whether a pervious layer crosses under the crest, how thick ` +
      "it is, and whether it goes on into the ground below.",
  };
  const toe: Target = {
    ...{ part: "seepage", within, place: "landside toe", worth_m },
    purpose: `blanket at seepage zone ${zone.rank}`,
    reason:
      `In ${name} the landside toe is where water would come out: the hole would measure the ` +
      "blanket's thickness and the sand under it, which the readings on the crest do not see.",
  };
  return toeSite(input, middle_m, used) === null ? [crest] : [crest, toe];
}

function changeTarget(change: SitingInput["changes"][number], weight: number): Target {
  const middle_m = (change.from_m + change.to_m) / 2;
  const half_m = Math.max(length(change) / 2, 5);
  const way = change.direction === "fell" ? "fell" : "rose";
  return {
    part: "change",
    within: [{ from_m: middle_m - half_m, to_m: middle_m + half_m }],
    place: "crest",
    worth_m: weight * Math.min(length(change), SPOKEN_FOR_M),
    purpose: `change at ${placeText(change)}`,
    reason:
      `Between ${change.earlier} and ${change.later} the resistivity ${way} at ` +
      `${placeText(change)}: the hole would show whether water content or make differs there.`,
  };
}

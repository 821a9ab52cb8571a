import type { LayerParts, PartsBelow } from "../../earth/embankment/layer-parts.js";
import { itemAt } from "../../numerics/arrays.js";

/** Parts of a member's layers on the bank, by channel; channels of one pair of coils share theirs. */
export function memberParts(
  below: readonly PartsBelow[],
  thickness_m: Float64Array,
): (channel: number) => LayerParts {
  const made = new Map<PartsBelow, LayerParts>();
  return (channel) => {
    const own = itemAt(below, channel);
    const known = made.get(own) ?? partsOf(own, thickness_m);
    made.set(own, known);
    return known;
  };
}

function partsOf({ bank: bankBelow, level: levelBelow }: PartsBelow, thickness_m: Float64Array) {
  const m = thickness_m.length + 1;
  const [bank, level] = [new Float64Array(m), new Float64Array(m)];
  let depth_m = 0;
  let [bankTop, levelTop] = [bankBelow(0), levelBelow(0)];
  for (let j = 0; j + 1 < m; j++) {
    depth_m += thickness_m[j]!;
    const [bankBase, levelBase] = [bankBelow(depth_m), levelBelow(depth_m)];
    bank[j] = bankTop - bankBase;
    level[j] = levelTop - levelBase;
    [bankTop, levelTop] = [bankBase, levelBase];
  }
  bank[m - 1] = bankTop;
  level[m - 1] = levelTop;
  return { bank, level };
}

import { firstOf, itemAt, zipped } from "../../numerics/arrays.js";
import { depthText } from "../ranges.js";
import { shiftsTo25 } from "../to-25-degrees.js";
import type { Change, Changes } from "./changes.js";
import type { CampaignPair } from "./check-pair.js";
import type { Comparison } from "./compared.js";
import { effectBySlice } from "./effect/effect-by-slice.js";
import { findSignificant, type Significance } from "./find-significant.js";
import { gatherStretches, type Stretch } from "./gather-stretches.js";
import type { CompareOptions } from "./options.js";
import { type SharedGround, sharedGround } from "./shared-ground.js";
import { sliceCautions } from "./slice-cautions.js";
import { stationRange, unknownStretches } from "./unknown-stretches.js";

/** Campaigns compared by their depth slices: alignment, significance, stretches and their effect. */
export function comparedSlices(pair: CampaignPair, used: CompareOptions): Comparison {
  const ground = sharedGround(pair.earlier, pair.later, used.alignWithin_m);
  const shifts = pairShifts(pair, ground);
  const corrected = shifts !== null;
  const found = significanceOf(ground, shifts, used);
  const stretches = stretchesOf(ground, found, used);
  const changes = stretches.map((stretch) => changeOf(ground, found, stretch));
  const value = changesOf(pair, ground, { found, changes });
  const cautions = sliceCautions(pair, { value, ground, found });
  return { value, corrected, cautions };
}

/** For each slice what takes the difference to 25 °C; null where either has no soil temperature. */
function pairShifts({ earlier, later }: CampaignPair, ground: SharedGround): number[] | null {
  const before = shiftsTo25(earlier, ground.slices);
  const after = shiftsTo25(later, ground.slices);
  if (before === null || after === null) return null;
  return zipped(after, before).map(([one, other]) => one - other);
}

function significanceOf(
  ground: SharedGround,
  shifts: readonly number[] | null,
  used: CompareOptions,
): Significance {
  const difference = ground.difference.map((column, k) =>
    column.map((value) => value + (shifts?.[k] ?? 0)),
  );
  const odd = (length_m: number) => 2 * Math.floor(length_m / ground.spacing_m / 2) + 1;
  const windows = used.smoothing_m > 0 ? [odd(used.smoothing_m), odd(2 * used.smoothing_m)] : [1];
  const mismatch = ground.shiftSd_m.map((sd) => Math.hypot(used.mismatch_m, sd) / ground.spacing_m);
  const tested = { difference, sd: ground.sd, mean: ground.mean };
  return findSignificant(tested, { level: used.level, q: used.q, windows, mismatch });
}

function stretchesOf(ground: SharedGround, found: Significance, used: CompareOptions): Stretch[] {
  const stations = (length_m: number) => length_m / ground.spacing_m - 1e-9;
  return gatherStretches(found, {
    q: used.q,
    join: Math.ceil(stations(used.joinWithin_m)),
    minLength: Math.max(1, Math.ceil(stations(used.minLength_m))),
    reach: Math.floor(used.smoothing_m / ground.spacing_m),
  });
}

type Effect = Omit<Change, "earlier" | "later">;

function changesOf(
  { earlier, later }: CampaignPair,
  ground: SharedGround,
  { found, changes }: { readonly found: Significance; readonly changes: readonly Effect[] },
): Changes {
  const names = { earlier: earlier.campaign, later: later.campaign };
  const aligned = ground.shiftSd_m.some((sd) => sd > 0);
  return {
    ...names,
    by: "slices",
    changes: changes.map((change) => ({ ...names, ...change })),
    chainage_m: ground.chainage_m,
    log10Ratio: found.difference,
    sd: found.sd,
    level: found.level,
    slices: ground.slices,
    ...(aligned && { shift_m: ground.shift_m, shiftSd_m: ground.shiftSd_m }),
    unknown: unknownStretches(ground),
  };
}

function changeOf(ground: SharedGround, found: Significance, stretch: Stretch): Effect {
  const { top_m } = itemAt(ground.slices, stretch.strongest);
  const bySlice = effectBySlice(ground, found, stretch);
  const { ratio, interval } = firstOf(bySlice.filter((one) => one.top_m === top_m));
  return {
    ...stationRange(ground, stretch.first, stretch.last),
    direction: stretch.sign > 0 ? "rose" : "fell",
    ratio,
    ratioInterval: interval,
    bySlice,
    q: stretch.q,
    slices: stretch.slices.map((k) => depthText(itemAt(ground.slices, k))),
  };
}

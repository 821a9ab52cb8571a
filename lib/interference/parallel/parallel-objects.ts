import { median } from "../../numerics/statistics/robust.js";
import type { Campaign } from "../../survey/survey.js";
import type { Detection } from "../metal/detect-metal.js";
import type { ScoredProfile } from "../metal/score-profile.js";
import type { DisturbedStretch } from "../stretches/merge-stretches.js";
import { withinReach } from "../stretches/noted-objects.js";
import { intervalMedians } from "./interval-medians.js";
import { separatesObjects, shiftedStretches } from "./shifted-stretches.js";

/** Stretches of any line that an object along it shifts as a whole, outside what is set aside. */
export function parallelObjects(
  profiles: readonly ScoredProfile[],
  stretches: readonly DisturbedStretch[],
  { reach_m, crossSections }: { readonly reach_m: number } & Pick<Campaign, "crossSections">,
): readonly Detection[] {
  const aside = (x: number, at_m: number) =>
    stretches.some(
      ({ from_m, to_m, offset_m }) =>
        x >= from_m && x <= to_m && withinReach(offset_m, at_m, reach_m),
    );
  return walkedLines(profiles, reach_m).flatMap(({ walks, offsets }) => {
    const offset_m = median(offsets);
    return shiftedStretches(intervalMedians(walks, crossSections, aside)).map(
      (one): Detection => ({ ...one, offset_m, along: true }),
    );
  });
}

/** True where the channels of some line can tell an object along it from ground. */
export function resolvesParallelObjects(
  profiles: readonly ScoredProfile[],
  { crossSections }: Pick<Campaign, "crossSections">,
): boolean {
  return walkedLines(profiles, 0).some(({ walks }) =>
    separatesObjects(intervalMedians(walks, crossSections, () => false)),
  );
}

/** Walks over one line, each within reach of the first, with their middle offsets. */
interface WalkedLine {
  readonly walks: ScoredProfile[];
  readonly offsets: number[];
}

function walkedLines(profiles: readonly ScoredProfile[], reach_m: number): readonly WalkedLine[] {
  const lines: WalkedLine[] = [];
  for (const one of profiles) {
    if (one.profile.chainage_m.length === 0) continue;
    const offset_m = median(one.profile.offset_m);
    const line = lines.find(({ offsets: [first = null] }) =>
      withinReach(first, offset_m, Math.max(2, reach_m)),
    );
    if (line === undefined) lines.push({ walks: [one], offsets: [offset_m] });
    else {
      line.walks.push(one);
      line.offsets.push(offset_m);
    }
  }
  return lines;
}

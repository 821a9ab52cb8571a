import { itemAt } from "../../numerics/arrays.js";
import { partsOf, toldAlong, total } from "./compared.js";
import { type Settled, settledBy } from "./gain.js";
import type { SitingInput } from "./input.js";
import type { SitingOptions } from "./options.js";
import type { Site } from "./places.js";
import type { BoreholePlan, ProposedBorehole } from "./plan.js";
import { purposeAndReason } from "./reasons.js";
import { equalSites } from "./sites.js";
import { keptCounts } from "./stability.js";
import { targetsOf } from "./targets.js";
import { weighedSites } from "./weighed-sites.js";

export function plannedBoreholes(input: SitingInput, used: SitingOptions): BoreholePlan {
  const { sites, weighing, drilled, start, picked, avoided } = weighedSites(
    input,
    targetsOf(input, used),
    used,
  );
  const kept = keptCounts({ sites, start, used }, picked);
  const holes = proposed(sites, picked, start());
  const metres = holes.reduce((sum, { depth_m }) => sum + depth_m, 0);
  const equal = equalSites(input, { metres, avoided, used });
  const compared = {
    before: start(),
    plan: taken(start(), picked),
    spaced: taken(settledBy(equal, weighing, drilled)(), [...equal.keys()]),
  };
  return {
    holes: holes.map((hole, k) => ({ ...hole, ...itemAt(kept, k) })),
    refused: holes.length > 0 ? null : refusal(sites, used),
    metres,
    settles_m: total(compared.plan),
    before_m: total(compared.before),
    parts: partsOf(weighing, compared),
    equal: { holes: equal, metres, settles_m: total(compared.spaced) },
    told: toldAlong(weighing, compared),
    avoided,
    centreline: input.slices.centreline,
  };
}

function taken(settled: Settled, picked: readonly number[]): Settled {
  for (const i of picked) settled.take(i);
  return settled;
}

function proposed(
  sites: readonly Site[],
  picked: readonly number[],
  settled: Settled,
): readonly Omit<ProposedBorehole, "keptIn" | "plansTried">[] {
  return picked.map((i, k) => {
    const site = itemAt(sites, i);
    const words = purposeAndReason(site, settled.adds(i));
    const adds_m = settled.gain(i);
    settled.take(i);
    return { id: `P${k + 1}`, ...site, ...words, priority: k + 1, adds_m };
  });
}

function refusal(sites: readonly Site[], { metres }: SitingOptions): string {
  if (sites.length === 0) {
    return "no place along the line is far enough from stretches set aside and noted objects";
  }
  const least_m = Math.min(...sites.map(({ depth_m }) => depth_m));
  if (metres !== null && least_m > metres) {
    return `the least hole takes ${least_m.toFixed(1)} m, and the budget is ${metres} m`;
  }
  return "no further borehole would settle anything that is weighed";
}

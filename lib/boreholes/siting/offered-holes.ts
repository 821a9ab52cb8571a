import { itemAt } from "../../numerics/arrays.js";
import type { SitingInput } from "./input.js";
import { sitingDefaults } from "./options.js";
import type { Site } from "./places.js";
import type { PartName } from "./plan.js";
import { purposeAndReason } from "./reasons.js";
import { targetsOf } from "./targets.js";
import { weighedSites } from "./weighed-sites.js";

/** A hole that a line would ask for, and what it adds to those that the line asks for before it. */
export interface OfferedHole extends Site {
  readonly purpose: string;
  readonly reason: string;
  /** m of bank as weighed, by part; parts to which it adds nothing are left out. */
  readonly adds_m: Readonly<Partial<Record<PartName, number>>>;
}

/**
 * The holes of one line in the order of their gain, for a choice over many lines: what the weights
 * of `sitingDefaults` make worth drilling, without the classes of ground, which several lines
 * share.
 */
export function offeredHoles(input: SitingInput, most: number): readonly OfferedHole[] {
  const used = { ...sitingDefaults, holes: most };
  const targets = targetsOf(input, used).filter(({ part }) => part !== "class");
  const { sites, start, picked } = weighedSites(input, targets, used);
  const settled = start();
  return picked.map((i) => {
    const site = itemAt(sites, i);
    const added = settled.adds(i);
    settled.take(i);
    const adds_m: Partial<Record<PartName, number>> =
      added.soil_m > 0 ? { soil: added.soil_m } : {};
    for (const { part, worth_m } of added.targets) adds_m[part] = (adds_m[part] ?? 0) + worth_m;
    return { ...site, ...purposeAndReason(site, added), adds_m };
  });
}

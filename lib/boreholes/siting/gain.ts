import { itemAt } from "../../numerics/arrays.js";
import type { Choice, Growing } from "./greedy.js";
import type { Site } from "./places.js";
import type { PartName } from "./plan.js";
import type { SoilCells } from "./soil-cells.js";
import type { Target } from "./targets.js";

/** What holes are weighed by. */
export interface Weighing {
  readonly targets: readonly Target[];
  readonly cells: SoilCells;
}

export const meets = (site: Site, { within, place }: Target) =>
  site.place === place &&
  within.some(({ from_m, to_m }) => site.chainage_m >= from_m && site.chainage_m <= to_m);

/** Holes that were drilled or chosen, and what they settle; it grows. */
export interface Settled extends Growing {
  /** [slice][piece]: the greatest share that one hole tells. */
  readonly told: readonly Float64Array[];
  /** What a site adds, by part and by target. */
  readonly adds: (site: number) => Added;
  /** All that is settled, by part. */
  readonly byPart: () => ReadonlyMap<PartName, number>;
}

export interface Added {
  readonly soil_m: number;
  readonly targets: readonly Target[];
}

/** Factors on what parts are worth; 1 of a part that is left out. */
export type Reweighing = Readonly<Partial<Record<PartName, number>>>;

/**
 * The gain of a set of sites: every target that one of them meets, by its worth, and for every cell
 * the greatest share of its soil's variance that one of them tells. Both are covers, so the gain is
 * monotone and submodular. Source: Nemhauser, Wolsey & Fisher 1978 (location problems).
 */
export function settledBy(
  sites: readonly Site[],
  weighing: Weighing,
  existing: readonly Site[],
): (factors?: Reweighing) => Settled {
  const { cells } = weighing;
  const sharesOf = (site: number) => cells.toldBy(itemAt(sites, site));
  const met = sites.map((site) =>
    weighing.targets.flatMap((target, t) => (meets(site, target) ? [t] : [])),
  );
  const before = weighing.targets.map((target) => existing.some((site) => meets(site, target)));
  const known = new KnownRises(sites.length * cells.places.length);
  return (factors = {}) => {
    const { targets, worth_m } = reweighed(weighing, factors);
    const told = cells.places.map((row) => new Float64Array(row.length));
    const done = [...before];
    const taken: number[] = [];
    let rises = known.after(taken);
    for (const site of existing) raise(told, cells.toldBy(site));
    const open = (site: number) => itemAt(met, site).filter((t) => !itemAt(done, t));
    const soil_m = (site: number) =>
      worth_m.reduce((sum, worth, k) => {
        const at = site * worth_m.length + k;
        if (Number.isNaN(rises[at]!)) rises[at] = riseOver(told[k]!, sharesOf(site)[k]!);
        return sum + rises[at]! * worth;
      }, 0);
    const worth = (sum: number, t: number) => sum + itemAt(targets, t).worth_m;
    return {
      told,
      gain: (site) => open(site).reduce(worth, soil_m(site)),
      adds: (site) => ({
        soil_m: soil_m(site),
        targets: open(site).map((t) => itemAt(targets, t)),
      }),
      take: (site) => {
        for (const t of open(site)) done[t] = true;
        raise(told, sharesOf(site));
        taken.push(site);
        rises = known.after(taken);
      },
      byPart: () => settledParts(targets, done, { told, worth_m }),
    };
  };
}

function reweighed({ targets, cells }: Weighing, factors: Reweighing) {
  const { soil = 1 } = factors;
  return {
    worth_m: cells.worth_m.map((worth) => soil * worth),
    targets: targets.map((target) => {
      const factor = factors[target.part];
      return factor === undefined ? target : { ...target, worth_m: factor * target.worth_m };
    }),
  };
}

/**
 * How much sites would raise what is told, [site][slice]; NaN where it was not asked for. It rests
 * on the sites taken before, in whatever order, and not on what anything is worth: plans under other
 * weights meet the same sets again.
 */
class KnownRises {
  private readonly sets = new Map<string, Float64Array>();

  constructor(private readonly count: number) {}

  after(taken: readonly number[]): Float64Array {
    const set = taken.toSorted((one, other) => one - other).join();
    const found = this.sets.get(set) ?? new Float64Array(this.count).fill(Number.NaN);
    this.sets.set(set, found);
    return found;
  }
}

function riseOver(before: Float64Array, share: Float64Array): number {
  let rise = 0;
  for (let i = 0; i < share.length; i++) {
    const more = share[i]! - before[i]!;
    if (more > 0) rise += more;
  }
  return rise;
}

function raise(told: readonly Float64Array[], shares: readonly Float64Array[]): void {
  for (const [k, share] of shares.entries()) {
    const before = itemAt(told, k);
    for (let i = 0; i < share.length; i++) before[i] = Math.max(before[i]!, share[i]!);
  }
}

function settledParts(
  targets: readonly Target[],
  done: readonly boolean[],
  { told, worth_m }: Pick<Settled, "told"> & Pick<SoilCells, "worth_m">,
): ReadonlyMap<PartName, number> {
  const soil_m = told.reduce((sum, row, k) => sum + row.reduce(plus, 0) * itemAt(worth_m, k), 0);
  const parts = new Map<PartName, number>([["soil", soil_m]]);
  for (const [t, { part, worth_m: worth }] of targets.entries()) {
    parts.set(part, (parts.get(part) ?? 0) + (itemAt(done, t) ? worth : 0));
  }
  return parts;
}

const plus = (sum: number, value: number) => sum + value;

/** The choice among sites, to be made greedily. */
export const choiceOf = (sites: readonly Site[], start: () => Growing): Choice => ({
  cost: Float64Array.from(sites, ({ depth_m }) => depth_m),
  start,
});

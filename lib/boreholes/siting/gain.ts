import { itemAt, valueAt } from "../../numerics/arrays.js";
import type { Ground } from "../soils/ground.js";
import {
  likeness,
  type SoilKernel,
  type SoilPlace,
  sameGround,
  weighed,
} from "../soils/soil-kernel.js";
import type { Choice, Growing } from "./greedy.js";
import type { Site } from "./places.js";
import type { PartName } from "./plan.js";
import type { Target } from "./targets.js";

/** What holes are weighed by. */
export interface Weighing {
  readonly targets: readonly Target[];
  readonly cells: SoilCells;
}

/** The bank in pieces, each slice of each piece a cell whose soil is to be told. */
export interface SoilCells {
  readonly chainage_m: Float64Array;
  /** [slice][piece]; null without an estimate. */
  readonly places: readonly (readonly (SoilPlace | null)[])[];
  /** For each slice, what a cell's soil is worth, m. */
  readonly worth_m: readonly number[];
  /** [slice][piece]: what a site tells of each cell, 0 to 1. */
  readonly toldBy: (site: Site) => readonly Float64Array[];
}

/** Cells `step_m` apart; a slice counts by its share of the reliable thickness. */
export function soilCells(
  ground: Ground,
  kernel: SoilKernel,
  { step_m, weight }: { readonly step_m: number; readonly weight: number },
): SoilCells {
  const chainage_m = ground.along(step_m);
  const places = ground.slices.map((_, k) => Array.from(chainage_m, (x) => ground.at(x, k)));
  const known = new Map<Site, readonly Float64Array[]>();
  return {
    chainage_m,
    places,
    worth_m: sliceWorths(ground, weight * step_m),
    toldBy: (site) => {
      const told = known.get(site) ?? toldCells(site, { ground, places, kernel });
      known.set(site, told);
      return told;
    },
  };
}

export function sliceWorths({ slices }: Ground, each_m: number): readonly number[] {
  const total = slices.reduce((sum, { top_m, base_m }) => sum + base_m - top_m, 0);
  return slices.map(({ top_m, base_m }) => (each_m * (base_m - top_m)) / total);
}

interface Told {
  readonly ground: Ground;
  readonly places: SoilCells["places"];
  readonly kernel: SoilKernel;
}

/**
 * Share of the soil's variance in each cell that a hole tells, of what can be told at all: the
 * squared correlation with the same slice at the hole, over that at the hole itself; blocks count as
 * far as the ground stays the same. Nothing from a hole off the crest, and nothing of slices below
 * the hole.
 */
function toldCells(site: Site, { ground, places, kernel }: Told): readonly Float64Array[] {
  const can = 1 - kernel.own;
  return places.map((row, k) => {
    const slice = itemAt(ground.slices, k);
    const reached = site.place === "crest" && site.depth_m >= slice.base_m - 1e-9;
    const own = reached ? ground.at(site.chainage_m, k) : null;
    return Float64Array.from(row, (_, i) => {
      const cell = itemAt(row, i);
      if (own === null || cell === null || !(can > 0)) return 0;
      const alike = { ...likeness(own, cell), block: sameGround(cell, own) };
      return Math.min(1, weighed(alike, kernel) / can) ** 2;
    });
  });
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

/**
 * The gain of a set of sites: every target that one of them meets, by its worth, and for every cell
 * the greatest share of its soil's variance that one of them tells. Both are covers, so the gain is
 * monotone and submodular. Source: Nemhauser, Wolsey & Fisher 1978 (location problems).
 */
export function settledBy(
  sites: readonly Site[],
  { targets, cells }: Weighing,
  existing: readonly Site[],
): () => Settled {
  const sharesOf = (site: number) => cells.toldBy(itemAt(sites, site));
  const met = sites.map((site) => targets.flatMap((target, t) => (meets(site, target) ? [t] : [])));
  return () => {
    const told = cells.places.map((row) => new Float64Array(row.length));
    const done = targets.map((target) => existing.some((site) => meets(site, target)));
    for (const site of existing) raise(told, cells.toldBy(site));
    const open = (site: number) => itemAt(met, site).filter((t) => !itemAt(done, t));
    const soil_m = (site: number) => soilGain(told, sharesOf(site), cells.worth_m);
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
      },
      byPart: () => settledParts(targets, done, { told, worth_m: cells.worth_m }),
    };
  };
}

function soilGain(
  told: readonly Float64Array[],
  shares: readonly Float64Array[],
  worth_m: readonly number[],
): number {
  let sum = 0;
  for (const [k, share] of shares.entries()) {
    const before = itemAt(told, k);
    let rise = 0;
    for (let i = 0; i < share.length; i++) {
      rise += Math.max(0, valueAt(share, i) - valueAt(before, i));
    }
    sum += rise * itemAt(worth_m, k);
  }
  return sum;
}

function raise(told: readonly Float64Array[], shares: readonly Float64Array[]): void {
  for (const [k, share] of shares.entries()) {
    const before = itemAt(told, k);
    for (let i = 0; i < share.length; i++) {
      before[i] = Math.max(valueAt(before, i), valueAt(share, i));
    }
  }
}

function settledParts(
  targets: readonly Target[],
  done: readonly boolean[],
  { told, worth_m }: Pick<Settled, "told"> & Pick<SoilCells, "worth_m">,
): ReadonlyMap<PartName, number> {
  const nothing = told.map((row) => new Float64Array(row.length));
  const parts = new Map<PartName, number>([["soil", soilGain(nothing, told, worth_m)]]);
  for (const [t, { part, worth_m: worth }] of targets.entries()) {
    parts.set(part, (parts.get(part) ?? 0) + (itemAt(done, t) ? worth : 0));
  }
  return parts;
}

/** The choice among sites, to be made greedily. */
export const choiceOf = (sites: readonly Site[], start: () => Growing): Choice => ({
  cost: Float64Array.from(sites, ({ depth_m }) => depth_m),
  start,
});

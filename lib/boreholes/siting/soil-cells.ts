import { itemAt } from "../../numerics/arrays.js";
import type { Ground } from "../soils/ground.js";
import {
  alikeByGround,
  alikeByResistivity,
  nearness,
  type SoilKernel,
  type SoilPlace,
} from "../soils/soil-kernel.js";
import type { Site } from "./places.js";

/** The bank in pieces, each slice of each piece a cell whose soil is to be told. */
export interface SoilCells {
  readonly chainage_m: Float64Array;
  /** [slice][piece]; null without an estimate. */
  readonly places: readonly (readonly (SoilPlace | null)[])[];
  /** For each slice, what a cell's soil is worth, m. */
  readonly worth_m: readonly number[];
  /** [slice][piece]: what a site tells of each cell, 0 to 1; no pieces of a slice that it does not. */
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
  const told = { ground, kernel, chainage_m, columns: places.map(columnOf) };
  const known = new Map<Site, readonly Float64Array[]>();
  return {
    chainage_m,
    places,
    worth_m: sliceWorths(ground, weight * step_m),
    toldBy: (site) => {
      const found = known.get(site) ?? toldCells(site, told);
      known.set(site, found);
      return found;
    },
  };
}

export function sliceWorths({ slices }: Ground, each_m: number): readonly number[] {
  const total = slices.reduce((sum, { top_m, base_m }) => sum + base_m - top_m, 0);
  return slices.map(({ top_m, base_m }) => (each_m * (base_m - top_m)) / total);
}

/** The cells of one slice; NaN without an estimate. */
interface CellColumn {
  readonly log10: Float64Array;
  readonly sd: Float64Array;
}

const columnOf = (places: readonly (SoilPlace | null)[]): CellColumn => ({
  log10: Float64Array.from(places, (place) => place?.log10Resistivity ?? Number.NaN),
  sd: Float64Array.from(places, (place) => place?.sd ?? Number.NaN),
});

interface Telling {
  readonly ground: Ground;
  readonly kernel: SoilKernel;
  readonly chainage_m: Float64Array;
  readonly columns: readonly CellColumn[];
}

const NO_CELLS = new Float64Array(0);

/**
 * Share of the soil's variance in each cell that a hole tells, of what can be told at all: the
 * squared correlation with the same slice at the hole, over that at the hole itself; blocks count as
 * far as the ground stays the same. Nothing from a hole off the crest, and nothing of slices below
 * the hole.
 */
function toldCells(site: Site, telling: Telling): readonly Float64Array[] {
  const { ground, kernel, columns } = telling;
  const can = 1 - kernel.own;
  const owns = ground.slices.map(({ base_m }, k) => {
    const isReached = site.place === "crest" && site.depth_m >= base_m - 1e-9 && can > 0;
    return isReached ? ground.at(site.chainage_m, k) : null;
  });
  const together = owns.some((own) => own !== null) ? byPlace(site, telling) : NO_CELLS;
  return owns.map((own, k) => {
    if (own === null) return NO_CELLS;
    const { log10, sd } = itemAt(columns, k);
    return together.map((near, i) => {
      if (Number.isNaN(log10[i]!)) return 0;
      const alike = alikeByResistivity(own.log10Resistivity - log10[i]!, own.sd, sd[i]!);
      return Math.min(1, (kernel.resistivity * alike + near) / can) ** 2;
    });
  });
}

/** What every slice of a piece shares with the same slice at a site: its ground and nearness. */
function byPlace({ chainage_m: at_m }: Site, { ground, kernel, chainage_m }: Telling) {
  const departure = ground.departures(at_m);
  return chainage_m.map(
    (x) => kernel.block * alikeByGround(departure(x)) + nearness(Math.abs(at_m - x), kernel),
  );
}

import { itemAt, valueAt } from "../numerics/arrays.js";
import { median } from "../numerics/statistics/robust.js";
import type { Borehole } from "../survey/survey.js";
import type { SlicesAt25 } from "./evidence/slices-at-25.js";

/** What counts as pervious ground, and where the figure comes from. */
export interface Pervious {
  /** log10(ohm-m) at 25 °C from which ground counts. */
  readonly log10: number;
  /** Thickness from which it counts, m. */
  readonly least_m: number;
}

/** Resistivity above which ground counts as pervious, at 25 °C, and where the figure comes from. */
export interface PerviousThreshold {
  readonly threshold_ohm_m: number;
  readonly source: string;
  /** True where local boreholes set it. */
  readonly local: boolean;
}

/**
 * The threshold from the survey's own boreholes: the middle, on a log scale, between the median
 * resistivity that the slices give beside coarse strata and beside fine ones. With fewer than two
 * strata of either kind, or where coarse ground is not the more resistive, the declared value
 * stands. Boreholes further than `within_m` from a station with an estimate do not count.
 */
export function perviousThreshold(
  ground: SlicesAt25,
  boreholes: readonly Borehole[],
  declared_ohm_m: number,
): PerviousThreshold {
  const told = slicesAtBoreholes(ground, boreholes);
  const valuesOf = (kind: SliceAtBorehole["kind"]) =>
    told.filter((one) => one.kind === kind).map(({ log10 }) => log10);
  const [coarse, fine] = [valuesOf("coarse"), valuesOf("fine")];
  const low = median(fine);
  const high = median(coarse);
  if (coarse.length < 2 || fine.length < 2 || !(high - low > 0.1)) {
    const found = `${coarse.length} coarse and ${fine.length} fine`;
    return {
      threshold_ohm_m: declared_ohm_m,
      source: `declared; boreholes give ${found} slices, too few or too alike to set it`,
      local: false,
    };
  }
  return {
    threshold_ohm_m: 10 ** ((low + high) / 2),
    source: `midway between ${coarse.length} coarse and ${fine.length} fine slices at boreholes`,
    local: true,
  };
}

/** A slice that one kind of soil fills in a borehole, and what the walk reads beside it. */
export interface SliceAtBorehole {
  readonly borehole: string;
  readonly kind: "coarse" | "fine";
  readonly log10: number;
}

type WalkedGround = Pick<SlicesAt25, "chainage_m" | "slices" | "mean">;

/** Every slice at a borehole that coarse or fine soil fills, where the walk has an estimate. */
export function slicesAtBoreholes(
  ground: WalkedGround,
  boreholes: readonly Borehole[],
): readonly SliceAtBorehole[] {
  return boreholes.flatMap((hole) =>
    ground.slices.flatMap((slice, k) => {
      const log10 = besideBorehole(ground, k, hole.chainage_m);
      const kind = kindWithin(hole, slice);
      if (kind === null || Number.isNaN(log10)) return [];
      return [{ borehole: hole.borehole, kind, log10 }];
    }),
  );
}

const NEAR_M = 6;

function besideBorehole(ground: WalkedGround, k: number, chainage_m: number): number {
  const near = (_: number, i: number) =>
    Math.abs(valueAt(ground.chainage_m, i) - chainage_m) <= NEAR_M;
  return median(itemAt(ground.mean, k).filter(near));
}

/** What fills at least 60 % of a slice in a borehole; null where neither kind does. */
function kindWithin(
  borehole: Borehole,
  slice: { readonly top_m: number; readonly base_m: number },
): "coarse" | "fine" | null {
  let coarse = 0;
  let fine = 0;
  for (const stratum of borehole.strata) {
    const shared = Math.min(stratum.base_m, slice.base_m) - Math.max(stratum.top_m, slice.top_m);
    if (!(shared > 0)) continue;
    if (isCoarse(stratum.soil)) coarse += shared;
    else fine += shared;
  }
  const thickness = slice.base_m - slice.top_m;
  if (coarse >= 0.6 * thickness) return "coarse";
  return fine >= 0.6 * thickness ? "fine" : null;
}

/**
 * True where a soil's principal fraction is sand, gravel or coarser: the last capitalised letters
 * of its ISO 14688-1 symbol (siSa is coarse, saSi is not).
 */
export function isCoarse(soil: string): boolean {
  const principal = soil.match(/[A-Z][a-z]*/g)?.at(-1) ?? "";
  return ["Sa", "FSa", "MSa", "CSa", "Gr", "FGr", "MGr", "CGr", "Co", "Bo"].includes(principal);
}

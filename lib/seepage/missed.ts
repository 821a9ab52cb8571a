import { itemAt, valueAt } from "../numerics/arrays.js";
import type { DetectionBySize } from "./detection.js";
import type { Cells, Presence } from "./evidence/piece.js";
import type { SlicesAt25 } from "./evidence/slices-at-25.js";
import type { SeepageOptions } from "./options.js";
import type { PerviousThreshold } from "./pervious-threshold.js";
import type { EvidenceName, UsedWeight } from "./seepage.js";
import { fromGround, sumOfWeights, weighed } from "./weigh.js";
import { zoneRuns } from "./zones.js";

interface Missing {
  readonly cells: Cells;
  readonly ground: SlicesAt25;
  readonly pervious: PerviousThreshold;
  /** What the ground itself shows, without any body put in. */
  readonly fromGround: readonly Presence[];
  readonly weights: Readonly<Record<EvidenceName, UsedWeight>>;
}

const LENGTHS_M = [10, 20, 40, 80] as const;
const THICKNESSES_M = [0.5, 1, 2] as const;
/** So many draws are enough to know a share to a tenth. */
const DRAWS = 24;
/** Resistivity of the body that is put in, over the threshold. */
const SAND = Math.log10(2.2);
/** Depth of its top, m. */
const TOP_M = 1.2;

/**
 * Puts bodies of sand into the draws of the slices, at places all along the line, and asks whether
 * they make a zone with every other piece unknown. A body moves a slice by its share of it times
 * the slice's own averaging: what the readings do not resolve, they would not have shown.
 */
export function detectionBySize(given: Missing, used: SeepageOptions): readonly DetectionBySize[] {
  const isFree = outside(zonesOf(given, given.fromGround, used));
  return LENGTHS_M.flatMap((length_m) =>
    THICKNESSES_M.map((thickness_m) => {
      const body = { length_m, thickness_m };
      const free = placesFor(given.ground, body, used).filter(isFree);
      return { ...body, ...shareFound(given, { ...body, middles_m: free }, used) };
    }),
  );
}

interface Body {
  readonly length_m: number;
  readonly thickness_m: number;
}

interface Bodies extends Body {
  readonly middles_m: readonly number[];
}

function shareFound(given: Missing, bodies: Bodies, used: SeepageOptions) {
  const { middles_m, length_m } = bodies;
  const { cells, pervious } = given;
  const log10 = bodyLog10(pervious);
  const ground = buried(given.ground, middles_m, { ...bodies, log10 });
  const zones = zonesOf(given, fromGround(cells, ground, { pervious, used }), used);
  const shown = middles_m.filter((x) => zones.some((zone) => reaches(zone, x, length_m / 2)));
  const places = middles_m.length;
  return { probability: places > 0 ? shown.length / places : Number.NaN, places };
}

const bodyLog10 = ({ threshold_ohm_m }: PerviousThreshold) => Math.log10(threshold_ohm_m) + SAND;

/** Far enough apart that no body is in another one's surroundings. */
function placesFor({ chainage_m }: SlicesAt25, { length_m }: Body, used: SeepageOptions): number[] {
  const n = chainage_m.length;
  if (n === 0) return [];
  const [first, last] = [valueAt(chainage_m, 0), valueAt(chainage_m, n - 1)];
  const step = Math.max(4 * length_m, used.reach_m.surroundings);
  const middles: number[] = [];
  for (let x = first + step / 2; x + length_m / 2 < last; x += step) middles.push(x);
  return middles;
}

interface ZoneEnds {
  readonly from_m: number;
  readonly to_m: number;
}

const reaches = ({ from_m, to_m }: ZoneEnds, x: number, half_m: number) =>
  from_m <= x + half_m && to_m >= x - half_m;

const outside = (zones: readonly ZoneEnds[]) => (x: number) =>
  !zones.some((zone) => reaches(zone, x, 0));

function zonesOf(
  { cells, weights }: Missing,
  presences: readonly Presence[],
  used: SeepageOptions,
): readonly ZoneEnds[] {
  const pieces = presences.map((presence) => weighed(presence, weights[presence.name]));
  const score = sumOfWeights(cells, pieces, used.startingProbability);
  return zoneRuns(score, used).map(([first, last]) => ({
    from_m: valueAt(cells.chainage_m, first) - cells.half_m,
    to_m: valueAt(cells.chainage_m, last) + cells.half_m,
  }));
}

function buried(
  ground: SlicesAt25,
  middles_m: readonly number[],
  { length_m, thickness_m, log10 }: Body & { readonly log10: number },
): SlicesAt25 {
  const inside = stationsIn(ground, middles_m, length_m / 2);
  const shares = ground.slices.map(({ top_m, base_m }) => {
    const shared = Math.min(base_m, TOP_M + thickness_m) - Math.max(top_m, TOP_M);
    return Math.max(0, shared) / (base_m - top_m);
  });
  const moved = (rows: readonly Float64Array[]) =>
    rows.map((row, k) => {
      const [share, averaging] = [itemAt(shares, k), itemAt(ground.averaging, k)];
      if (share === 0) return row;
      const out = row.slice();
      for (const i of inside) out[i]! += share * averaging[i]! * Math.max(0, log10 - row[i]!);
      return out;
    });
  return { ...ground, draws: ground.draws.slice(0, DRAWS).map(moved), mean: moved(ground.mean) };
}

/** The stations within so many metres of a middle; middles rise, and stand further apart. */
function stationsIn(
  { chainage_m }: SlicesAt25,
  middles_m: readonly number[],
  half_m: number,
): readonly number[] {
  const away = (x: number, m: number) => Math.abs(x - (middles_m[m] ?? Number.POSITIVE_INFINITY));
  let nearest = 0;
  return [...chainage_m.keys()].filter((i) => {
    const x = valueAt(chainage_m, i);
    while (away(x, nearest + 1) < away(x, nearest)) nearest++;
    return away(x, nearest) <= half_m;
  });
}

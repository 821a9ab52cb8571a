import { firstOf, itemAt, lastOf } from "../numerics/arrays.js";
import { NORMAL_95 } from "../numerics/statistics/normal.js";
import type { BoundaryRange } from "./cut/cut-posterior.js";

/** A boundary between two blocks, in metres. */
export interface Boundary {
  readonly at_m: number;
  readonly interval_m: readonly [number, number];
  /** Index of the first station after it. */
  readonly index: number;
  /** Probability that there is a boundary at all. */
  readonly probability: number;
  /** Probability that a boundary lies within `nearDistance` of `at_m`. */
  readonly nearProbability: number;
}

export interface Stations {
  readonly chainage_m: Float64Array;
  readonly spacing_m: number;
  /** n entries: true where the station has an estimate in any column. */
  readonly present: readonly boolean[];
  /** n + 1 probabilities of a break before each station. */
  readonly breakProbability: Float64Array;
  /** n standard deviations of the stations' chainages, m; left out or NaN for none. */
  readonly positionSd_m?: Float64Array | undefined;
}

/** Boundaries this near are at the same place, m: 5, or 1.5 stations where these are wide apart. */
export const nearDistance = (spacing_m: number) => Math.max(5, 1.5 * spacing_m);

/**
 * Break indices as chainages. A break before station i lies halfway between stations i − 1 and i,
 * and may lie anywhere between them, so the interval reaches from the one station to the other. A
 * break inside a gap is put in the gap's middle, and an interval that ends inside a gap ends at the
 * gap's far station: nothing is known in between. Where the stations' positions are uncertain, each
 * half of the interval is added in quadrature to the 90 % half-width of the positions: errors that
 * stations share move a boundary with them.
 */
export function boundariesOf(
  ranges: readonly BoundaryRange[],
  stations: Stations,
): readonly Boundary[] {
  return ranges.map(({ at, from, to, probability }) => {
    const [left, right] = [stationBefore(stations, at), stationFrom(stations, at)];
    const { chainage_m } = stations;
    const x = (i: number) => itemAt(chainage_m, i);
    const at_m = (x(left) + x(right)) / 2;
    const low_m = at_m - x(Math.min(left, stationBefore(stations, from)));
    const high_m = x(Math.max(right, stationFrom(stations, to))) - at_m;
    const position_m = positionHalfWidth(stations, [left, right]);
    return {
      at_m,
      interval_m: [
        Math.max(firstOf(chainage_m), at_m - Math.hypot(low_m, position_m)),
        Math.min(lastOf(chainage_m), at_m + Math.hypot(high_m, position_m)),
      ] as const,
      index: right,
      probability,
      nearProbability: probabilityNear(stations, at_m),
    };
  });
}

/** Half-width of the 90 % interval of two stations' positions, m: that of the less certain. */
function positionHalfWidth({ positionSd_m }: Stations, ends: readonly [number, number]): number {
  const known = ends.map((i) => positionSd_m?.[i] ?? 0).filter((sd_m) => sd_m > 0);
  return NORMAL_95 * Math.max(0, ...known);
}

/** Probability of a boundary within the near distance of a place, at most 1. */
export function probabilityNear(
  { chainage_m, spacing_m, breakProbability }: Omit<Stations, "present">,
  at_m: number,
): number {
  const middle = (at_m - firstOf(chainage_m)) / spacing_m + 0.5;
  const reach = nearDistance(spacing_m) / spacing_m;
  const first = Math.max(1, Math.ceil(middle - reach));
  const last = Math.min(chainage_m.length - 1, Math.floor(middle + reach));
  const near = breakProbability.subarray(first, last + 1);
  const all = near.reduce((sum, value) => sum + value, 0);
  return Math.min(1, all);
}

/** The last station with an estimate before index `at`; the first station where there is none. */
function stationBefore(stations: Stations, at: number): number {
  const before = stations.present.lastIndexOf(true, at - 1);
  return before < 0 ? 0 : before;
}

/** The first station with an estimate from index `at` on; the last station where there is none. */
function stationFrom(stations: Stations, at: number): number {
  const after = stations.present.indexOf(true, at);
  return after < 0 ? stations.present.length - 1 : after;
}

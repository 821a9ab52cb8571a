import type { BoundaryRange } from "./boundary-intervals.js";

/** A boundary between two blocks, in metres. */
export interface Boundary {
  readonly at_m: number;
  readonly interval_m: readonly [number, number];
  /** Index of the first station after it. */
  readonly index: number;
}

export interface Stations {
  readonly chainage_m: Float64Array;
  readonly spacing_m: number;
  /** n entries: true where the station has an estimate in any column. */
  readonly present: readonly boolean[];
}

/**
 * Break indices as chainages. A break before station i lies halfway between stations i − 1 and i,
 * and may lie anywhere between them, so the interval reaches from the one station to the other. A
 * break inside a gap is put in the gap's middle, and an interval that ends inside a gap ends at the
 * gap's far station: nothing is known in between.
 */
export function boundariesOf(
  ranges: readonly BoundaryRange[],
  stations: Stations,
): readonly Boundary[] {
  return ranges.map(({ at, from, to }) => {
    const [left, right] = [stationBefore(stations, at), stationFrom(stations, at)];
    const x = stations.chainage_m;
    return {
      at_m: (x[left]! + x[right]!) / 2,
      interval_m: [
        x[Math.min(left, stationBefore(stations, from))]!,
        x[Math.max(right, stationFrom(stations, to))]!,
      ] as const,
      index: right,
    };
  });
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

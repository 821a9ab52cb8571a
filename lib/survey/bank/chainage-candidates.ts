import { firstOf } from "../../numerics/arrays.js";
import type { Centreline } from "../centreline.js";
import { blocksNear } from "./segment-blocks.js";

/** One projection of a point on the centreline. */
export interface Candidate {
  readonly chainage_m: number;
  readonly offset_m: number;
  readonly distance_m: number;
}

// Projections further than this beyond the nearest one, or after this many, are no candidates.
const WINDOW_M = 60;
const MOST_CANDIDATES = 8;

/** The local minima of the distance from the point to the centreline, the nearest first. */
export function candidatesAt(
  centreline: Centreline,
  easting_m: number,
  northing_m: number,
): readonly Candidate[] {
  const found: Candidate[] = [];
  for (const { first, end } of blocksNear(centreline, easting_m, northing_m, WINDOW_M)) {
    addCandidates(centreline, { first, end, easting_m, northing_m }, found);
  }
  return nearest(found);
}

interface Search {
  /** Segments from the first to before the end. */
  readonly first: number;
  readonly end: number;
  readonly easting_m: number;
  readonly northing_m: number;
}

function addCandidates(
  centreline: Centreline,
  { first, end, easting_m, northing_m }: Search,
  found: Candidate[],
): void {
  const { easting_m: x, northing_m: y, chainage_m: s } = centreline;
  const last = x.length - 2;
  const at = (k: number) => {
    const [dx, dy] = [x[k + 1]! - x[k]!, y[k + 1]! - y[k]!];
    const [px, py] = [easting_m - x[k]!, northing_m - y[k]!];
    const ground_m = s[k + 1]! - s[k]!;
    const grid2 = dx * dx + dy * dy;
    const along_m = ((px * dx + py * dy) * ground_m) / grid2;
    const left_m = ((dx * py - dy * px) * ground_m) / grid2;
    return { px, py, along_m, left_m, ground_m, isNext: along_m >= ground_m };
  };
  let pastPrevious = first === 0 || at(first - 1).isNext;
  for (let k = first; k < end; k++) {
    const { px, py, along_m, left_m, ground_m, isNext } = at(k);
    if (along_m > 0 && !isNext) {
      found.push({ chainage_m: s[k]! + along_m, offset_m: left_m, distance_m: Math.abs(left_m) });
    } else if (along_m <= 0 && k === 0) {
      found.push(beyond(s[0]!, along_m, left_m));
    } else if (along_m <= 0 && pastPrevious) {
      found.push(corner(centreline, k, { px, py }));
    }
    if (isNext && k === last) found.push(beyond(s[k + 1]!, along_m - ground_m, left_m));
    pastPrevious = isNext;
  }
}

/** Beyond an end the end segment goes on; the distance stays that to the end. */
function beyond(end_m: number, past_m: number, offset_m: number): Candidate {
  return { chainage_m: end_m + past_m, offset_m, distance_m: Math.hypot(past_m, offset_m) };
}

/** On the outside of vertex k; the side is that of the bisector's direction. */
function corner(
  { easting_m: x, northing_m: y, chainage_m: s }: Centreline,
  k: number,
  { px, py }: { readonly px: number; readonly py: number },
): Candidate {
  const [ax, ay] = [x[k]! - x[k - 1]!, y[k]! - y[k - 1]!];
  const [bx, by] = [x[k + 1]! - x[k]!, y[k + 1]! - y[k]!];
  const [before, after] = [Math.hypot(ax, ay), Math.hypot(bx, by)];
  const [dx, dy] = [ax / before + bx / after, ay / before + by / after];
  const distance_m = (Math.hypot(px, py) * (s[k + 1]! - s[k]!)) / after;
  const offset_m = dx * py - dy * px < 0 ? -distance_m : distance_m;
  return { chainage_m: s[k]!, offset_m, distance_m };
}

function nearest(found: Candidate[]): readonly Candidate[] {
  found.sort((one, other) => one.distance_m - other.distance_m);
  const furthest_m = firstOf(found).distance_m + WINDOW_M;
  return found.slice(0, MOST_CANDIDATES).filter(({ distance_m }) => distance_m <= furthest_m);
}

import type { Block } from "../../blocks/blocks.js";
import { shiftsTo25 } from "../../campaigns/to-25-degrees.js";
import type { DepthSlices, Slice } from "../../depth/depth-slices.js";
import { itemAt, valueAt } from "../../numerics/arrays.js";
import { extent } from "../../numerics/statistics/present.js";
import type { ColumnAlong, SoilPlace } from "./soil-kernel.js";

/** The slices that soils are told from, at one temperature. */
export interface Ground {
  readonly at25: boolean;
  /** The reliable slices. */
  readonly slices: readonly Slice[];
  /** A slice's ground about a chainage; null without an estimate within `near_m`. */
  readonly at: (chainage_m: number, slice: number) => SoilPlace | null;
  /** Chainages from end to end of the line, `step_m` apart. */
  readonly along: (step_m: number) => Float64Array;
  /** How far the column departs from that at a chainage on the way to another, as `ColumnAlong`. */
  readonly departures: (from_m: number) => (to_m: number) => number;
}

/** The ground of the reliable slices, at 25 °C where the temperatures are known. */
export function groundOf(given: DepthSlices, blocks: readonly Block[], near_m: number): Ground {
  const kept = given.slices.flatMap((slice, k) => (slice.reliable ? [k] : []));
  const slices = kept.map((k) => itemAt(given.slices, k));
  const shifts = shiftsTo25(given, slices);
  const departures = departuresAlong(given, kept, near_m);
  const column = columnAlong(departures);
  return {
    at25: shifts !== null,
    slices,
    at: (chainage_m, slice) => {
      const k = itemAt(kept, slice);
      const { top_m, base_m } = itemAt(slices, slice);
      const about = meanAbout(given, k, { chainage_m, near_m });
      if (about === null) return null;
      const block = blocks.findIndex(
        ({ from_m, to_m }) => from_m <= chainage_m && chainage_m < to_m,
      );
      return {
        chainage_m,
        depth_m: (top_m + base_m) / 2,
        block: block < 0 ? Number.NaN : block,
        log10Resistivity: about.mean + (shifts?.[slice] ?? 0),
        sd: about.sd,
        column,
      };
    },
    along: (step_m) => {
      const { least, most } = extent(given.chainage_m);
      const n = Math.max(1, Math.floor((most - least) / step_m));
      const first = (least + most - (n - 1) * step_m) / 2;
      return Float64Array.from({ length: n }, (_, i) => first + i * step_m);
    },
    departures,
  };
}

/**
 * Mean over the stations about a place; errors of neighbours are one error, so its sd is theirs.
 */
function meanAbout(
  { chainage_m, spacing_m, log10Resistivity, sd }: DepthSlices,
  slice: number,
  about: { readonly chainage_m: number; readonly near_m: number },
): { readonly mean: number; readonly sd: number } | null {
  const first = valueAt(chainage_m, 0);
  const from = Math.max(0, Math.ceil((about.chainage_m - about.near_m - first) / spacing_m));
  const to = Math.floor((about.chainage_m + about.near_m - first) / spacing_m);
  let [sum, error, count] = [0, 0, 0];
  for (let i = from; i <= Math.min(to, chainage_m.length - 1); i++) {
    const value = valueAt(itemAt(log10Resistivity, slice), i);
    if (Number.isNaN(value)) continue;
    sum += value;
    error += valueAt(itemAt(sd, slice), i);
    count += 1;
  }
  return count === 0 ? null : { mean: sum / count, sd: error / count };
}

/** Departures from a place, kept by that place. */
function columnAlong(departures: Ground["departures"]): ColumnAlong {
  const known = new Map<number, (to_m: number) => number>();
  return {
    departure: (from_m, to_m) => {
      const found = known.get(from_m) ?? departures(from_m);
      known.set(from_m, found);
      return found(to_m);
    },
  };
}

/** Between the means about the stations nearest to two places. */
function departuresAlong(
  given: DepthSlices,
  kept: readonly number[],
  near_m: number,
): Ground["departures"] {
  const { chainage_m } = given;
  const n = chainage_m.length;
  const rows = kept.map((k) =>
    chainage_m.map((x) => meanAbout(given, k, { chainage_m: x, near_m })?.mean ?? Number.NaN),
  );
  const stationAt = (x: number) => {
    const station = Math.round((x - valueAt(chainage_m, 0)) / given.spacing_m);
    return Math.min(n - 1, Math.max(0, station));
  };
  return (from_m) => {
    const found = departuresFrom(rows, stationAt(from_m));
    return (to_m) => valueAt(found, stationAt(to_m));
  };
}

/** Outwards from a station both ways; stations without an estimate part nothing. */
function departuresFrom(rows: readonly Float64Array[], from: number): Float64Array {
  const n = rows[0]?.length ?? 0;
  const out = new Float64Array(n);
  for (const way of [1, -1]) {
    let most = 0;
    for (let i = from; i >= 0 && i < n; i += way) {
      let square = 0;
      for (const row of rows) {
        const away = row[i]! - row[from]!;
        if (!Number.isNaN(away)) square += away * away;
      }
      if (square > most) most = square;
      out[i] = most;
    }
  }
  return out;
}

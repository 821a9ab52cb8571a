import { itemAt, neighbours, valueAt } from "../../numerics/arrays.js";
import type { Slice } from "../depth-slices.js";
import type { LineDraws } from "../posterior/line-drawer.js";
import { bestPartition } from "./best-partition.js";
import type { Resolution } from "./resolution.js";
import { SliceSpreads } from "./slice-spreads.js";

/** Stations that slices are chosen by. */
const STATIONS = 60;
/** The wider side of a reliable slice's interval is at most this many times the other. */
const SKEW = 2.5;

/**
 * Slices, as many as the readings hold independent levels, and cut where readings tell most of them
 * together. Fewer where more of them are reliable then; none where no station has an estimate.
 */
export function chooseSlices(
  draws: LineDraws,
  resolution: Resolution,
  { sliceSd, deepest_m }: { readonly sliceSd: number; readonly deepest_m: number },
): readonly Slice[] {
  const { top_m } = draws;
  if (draws.effective.every(Number.isNaN)) return [];
  const spreads = new SliceSpreads(someOf(draws));
  const most = Math.max(1, Math.round(resolution.levels));
  const rows = Array.from({ length: most }, (_, k) =>
    neighbours(bestPartition(top_m, most - k, { ...resolution, deepest_m })).map(([a, b]) => ({
      top_m: valueAt(top_m, a),
      base_m: valueAt(top_m, b),
      reliable:
        spreads.of(a, b) <= sliceSd &&
        spreads.unevenness(a, b) <= sliceSd &&
        spreads.skewness(a, b) <= SKEW,
    })),
  );
  const count = (row: readonly Slice[]) => row.filter(({ reliable }) => reliable).length;
  return rows.reduce((best, row) => (count(row) > count(best) ? row : best));
}

/** The draws of stations spread evenly over those that are drawn. */
function someOf({ columns: all, draws, top_m, effective }: LineDraws) {
  const size = draws * top_m.length;
  const known = [...effective.keys()].filter((i) => !Number.isNaN(valueAt(effective, i)));
  const count = Math.min(STATIONS, known.length);
  const columns = new Float32Array(count * size);
  for (let s = 0; s < count; s++) {
    const i = itemAt(known, Math.floor(((s + 0.5) * known.length) / count));
    columns.set(all.subarray(i * size, (i + 1) * size), s * size);
  }
  return { columns, draws, top_m };
}

/** Base of the deepest slice down to which every slice is reliable, m; 0 where the first is not. */
export function reliableDepth(slices: readonly Slice[]): number {
  const first = slices.findIndex((slice) => !slice.reliable);
  const reliable = first < 0 ? slices : slices.slice(0, first);
  return reliable.at(-1)?.base_m ?? 0;
}

import { itemAt, valueAt } from "../../numerics/arrays.js";
import type { LineDraws } from "../posterior/line-drawer.js";

const STATIONS = 20;

/** Mean columns, m ln conductivities, of stations spread evenly over those that are drawn. */
export function meanColumns({ columns, draws, top_m, effective }: LineDraws) {
  const m = top_m.length;
  const size = draws * m;
  const known = [...effective.keys()].filter((i) => !Number.isNaN(valueAt(effective, i)));
  const count = Math.min(STATIONS, known.length);
  return Array.from({ length: count }, (_, s) => {
    const from = size * itemAt(known, Math.floor(((s + 0.5) * known.length) / count));
    const mean = new Float64Array(m);
    for (let at = 0; at < size; at++) mean[at % m]! += columns[from + at]! / draws;
    return mean;
  });
}

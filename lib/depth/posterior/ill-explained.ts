import { valueAt } from "../../numerics/arrays.js";
import { quantile } from "../../numerics/statistics/robust.js";
import type { LineReadings } from "../data/line-readings.js";
import { rootMeanSquare } from "../data/root-mean-square.js";

/**
 * No ground explains a station whose misfit is more than this, and than so many times what the better
 * quarter of its line comes to: metal may go along with the rest.
 */
const LEAST = 2;
const TIMES = 3;

/**
 * What each station counts for in what is found of the line: 1, and less where no ground explains it
 * as others of the line are explained, such as over metal that goes along with the line. Its squared
 * error then counts as that of the worst station that is still explained.
 *
 * Source: Huber 1964, Annals of Mathematical Statistics 35, 73–101 (weights by the size of residuals).
 */
export function countsOf(misfit: Float64Array): Float64Array {
  const most = mostOf(misfit);
  return misfit.map((one) => (one > most ? (most / one) ** 2 : 1));
}

/**
 * The line with a noise of its own at every station that no ground explains: as much more as its
 * errors are.
 *
 * @param squares - n × width expected squares of the errors over their noise; NaN where there is none.
 */
export function withOwnNoise(
  level: LineReadings,
  { white }: { readonly white: Float64Array },
  squares: Float64Array,
): { readonly level: LineReadings; readonly stations: ReadonlySet<number> } {
  const { n, width, channels } = level;
  const misfit = Float64Array.from({ length: n }, (_, i) =>
    rootMeanSquare(squares.subarray(i * width, i * width + channels.length).map(Math.sqrt)),
  );
  const most = mostOf(misfit);
  const stations = new Set([...misfit.keys()].filter((i) => valueAt(misfit, i) > most));
  const known = level.known.slice();
  for (const i of stations) {
    const more = Math.sqrt(valueAt(misfit, i) ** 2 - 1);
    for (let d = 0; d < channels.length; d++) {
      const at = i * width + d;
      known[at] = Math.hypot(
        valueAt(known, at),
        more * Math.hypot(valueAt(white, d), valueAt(level.common, d)),
      );
    }
  }
  return { level: { ...level, known }, stations };
}

/** The greatest misfit of a station that ground explains. */
function mostOf(misfit: Float64Array): number {
  return Math.max(LEAST, TIMES * quantile(misfit, 0.25));
}

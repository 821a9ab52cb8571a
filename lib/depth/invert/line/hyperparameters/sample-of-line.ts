import { itemAt, valueAt } from "../../../../numerics/arrays.js";
import type { LineData } from "../line-data.js";

/** Stations of a window: long beside the correlation length of the ground. */
const WINDOW = 150;

/**
 * Windows spread evenly over a line, put end to end, so many stations in all; a shorter line is
 * itself. At the seams, one in `WINDOW`, stations count as neighbours that are not.
 */
export function sampleOfLine(line: LineData, stations: number): LineData {
  const { n, c } = line;
  if (n <= stations) return line;
  const windows = Math.max(1, Math.floor(stations / WINDOW));
  const index = Array.from({ length: windows * WINDOW }, (_, k) => {
    const window = Math.floor(k / WINDOW);
    const from = windows === 1 ? 0 : Math.round((window * (n - WINDOW)) / (windows - 1));
    return from + (k % WINDOW);
  });
  const place = new Map(index.map((station, k) => [station, k]));
  const rows = (values: Float64Array) =>
    Float64Array.from({ length: index.length * c }, (_, at) => {
      return valueAt(values, itemAt(index, Math.floor(at / c)) * c + (at % c));
    });
  return {
    ...line,
    n: index.length,
    value_ppm: rows(line.value_ppm),
    sd_ppm: rows(line.sd_ppm),
    known: Uint8Array.from(index, (station) => itemAt(line.known, station)),
    ties: line.ties.flatMap((tie) => {
      const station = place.get(tie.station);
      return station === undefined ? [] : [{ ...tie, station }];
    }),
    forward: (station) => line.forward(itemAt(index, station)),
  };
}

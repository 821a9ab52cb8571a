import { usualSpacing } from "../model/section-cells.js";
import { sharedPlaces } from "./rejection.js";
import type { ScreenedLine } from "./screen-line.js";

/**
 * A screened line without the second of two electrodes that share a place: no reading in use has
 * either, and a forward model cannot hold both.
 */
export function withDistinctPlaces(line: ScreenedLine): ScreenedLine {
  const spacing_m = usualSpacing(line.electrodes.map(({ x_m }) => x_m));
  const second = new Set(sharedPlaces(line, spacing_m).map(([, later]) => later));
  if (second.size === 0) return line;
  const kept = line.electrodes.map((_, i) => i + 1).filter((place) => !second.has(place));
  const placeOf = new Map(kept.map((place, i) => [place, i + 1]));
  const moved = (place: number) => (place === 0 ? 0 : (placeOf.get(place) ?? Number.NaN));
  const readings = line.readings.map((one) => {
    const { a, b, m, n } = one.spread;
    return { ...one, spread: { a: moved(a), b: moved(b), m: moved(m), n: moved(n) } };
  });
  const electrodes = kept.map((place) => line.electrodes[place - 1]!);
  const numbers = kept.map((place) => line.numbers[place - 1]!);
  return { ...line, electrodes, numbers, readings };
}

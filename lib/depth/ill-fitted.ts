import { itemAt, valueAt } from "../numerics/arrays.js";
import { runsWhere } from "../numerics/runs.js";
import { median, quantile } from "../numerics/statistics/robust.js";
import { listText } from "../step/list-text.js";
import type { DepthSlices } from "./depth-slices.js";

/** Stations in a row whose readings no layered ground explains, though others of the line do. */
export interface IllFitted {
  readonly from_m: number;
  readonly to_m: number;
  /** Median misfit of its stations, in the noise found from the line. */
  readonly misfit: number;
}

/** What ill-fitted stretches of a campaign look like, a sentence; null where there is none. */
export function illFittedText(value: DepthSlices): string | null {
  const found = illFitted(value);
  if (found.length === 0) return null;
  const places = found.map(
    ({ from_m, to_m, misfit }) =>
      `${from_m.toFixed(0)}–${to_m.toFixed(0)} m (misfit ${misfit.toFixed(1)})`,
  );
  const elsewhere = quantile(value.misfit, 0.25).toFixed(1);
  return (
    `${value.campaign}: no layered ground explains the readings at ${listText(places)}, where others ` +
    `of the line are explained to ${elsewhere}: metal that goes along with the line (mesh in a ` +
    "road, a pipe, a wall, a rail), water or a slope close by. Resistivities, blocks and " +
    "boundaries there may be that object's and not the ground's; look before anything is made of them."
  );
}

/** A station is judged by the median over so many metres about it. */
const ABOUT_M = 20;
const SHORTEST_M = 20;
/** Ill is what lies over this, and over so many times the misfit that the line has elsewhere. */
const POOR = 1.5;
const TIMES = 2;

/**
 * Stretches that fit worse than the rest of their line: metal that goes along with it (mesh under a
 * road, a pipe, a wall) is no short anomaly, and its two ends are all that masking sees of it.
 *
 * The line's better quarter says what it has elsewhere; stations without an estimate are passed over.
 * Source: common practice.
 */
export function illFitted({ chainage_m, misfit, spacing_m }: DepthSlices): readonly IllFitted[] {
  const stations = [...misfit.keys()].filter((i) => !Number.isNaN(valueAt(misfit, i)));
  const known = Float64Array.from(stations, (i) => valueAt(misfit, i));
  const limit = Math.max(POOR, TIMES * quantile(known, 0.25));
  const half = Math.max(1, Math.round(ABOUT_M / spacing_m / 2));
  const smooth = known.map((_, i) => median(known.subarray(Math.max(0, i - half), i + half + 1)));
  return runsWhere(smooth, (one) => one > limit).flatMap(({ first, last }) => {
    const [from_m, to_m] = [first, last].map((i) => valueAt(chainage_m, itemAt(stations, i)));
    if (from_m === undefined || to_m === undefined || to_m - from_m < SHORTEST_M) return [];
    return [{ from_m, to_m, misfit: median(known.subarray(first, last + 1)) }];
  });
}

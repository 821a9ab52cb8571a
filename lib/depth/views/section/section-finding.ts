import { valueAt } from "../../../numerics/arrays.js";
import { estimatedRuns } from "../../data/text-runs.js";
import type { DepthSlices } from "../../depth-slices.js";

/** Length over which ground is averaged for the title, m; never under five stations. */
const WINDOW_M = 20;
/** Ratio of the extremes below which the ground counts as uniform. */
const UNIFORM = 1.5;

/** The section in a sentence: the extremes along the bank down to the reliable depth. */
export function sectionFinding(value: DepthSlices): string {
  const { campaign, reliableTo_m } = value;
  if (!(reliableTo_m > 0)) {
    return `Campaign ${campaign}: the readings resolve no depth; the section shows the prior`;
  }
  const down = `Campaign ${campaign}: down to ${reliableTo_m.toFixed(1)} m the ground`;
  const means = windowMeans(value);
  if (means.length === 0) return `${down} is known nowhere`;
  const low = means.reduce((least, one) => (one.log10 < least.log10 ? one : least));
  const high = means.reduce((most, one) => (one.log10 > most.log10 ? one : most));
  if (10 ** (high.log10 - low.log10) < UNIFORM) {
    return `${down} has about ${ohm((low.log10 + high.log10) / 2)} ohm-m all along`;
  }
  return (
    `${down} runs from ${ohm(low.log10)} ohm-m around ${metres(low.at_m)} m to ` +
    `${ohm(high.log10)} ohm-m around ${metres(high.at_m)} m`
  );
}

/** Means of log10 resistivity over the reliable depth, in windows that no gap breaks. */
function windowMeans(value: DepthSlices) {
  const stations = Math.max(5, Math.round(WINDOW_M / value.spacing_m));
  return estimatedRuns(value).flatMap(({ first, last }) => {
    const windows: { readonly at_m: number; readonly log10: number }[] = [];
    for (let i = first; i + stations - 1 <= last; i += stations) {
      const at = Array.from({ length: stations }, (_, k) => i + k);
      const log10 = at.reduce((sum, station) => sum + columnMean(value, station), 0) / stations;
      windows.push({ at_m: valueAt(value.chainage_m, i + Math.floor(stations / 2)), log10 });
    }
    return windows;
  });
}

/** Thickness-weighted mean of a station's layers down to the reliable depth. */
function columnMean({ layers, reliableTo_m }: DepthSlices, station: number): number {
  const { top_m, log10Resistivity } = layers;
  const column = log10Resistivity.subarray(station * top_m.length, (station + 1) * top_m.length);
  const sum = column.reduce((total, value, j) => {
    const top = Math.min(valueAt(top_m, j), reliableTo_m);
    const base = Math.min(top_m[j + 1] ?? reliableTo_m, reliableTo_m);
    return total + (base - top) * value;
  }, 0);
  return sum / reliableTo_m;
}

const ohm = (log10: number): string => Number((10 ** log10).toPrecision(2)).toLocaleString("en");
const metres = (at_m: number): string => (10 * Math.round(at_m / 10)).toLocaleString("en");

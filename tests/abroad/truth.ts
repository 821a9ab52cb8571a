import { log10OverThatAt25, soilTemperature_degC } from "./field/temperature.js";
import { type Column, type GroundChange, meanLog10, raised, shifted } from "./ground/columns.js";
import type { Ground } from "./ground/layered-ground.js";

export interface Truth {
  /** The crest's; empty where the ground nowhere changes from one stretch to another. */
  readonly boundaries_m: readonly number[];
  readonly changes: readonly GroundChange[];
  /** The ground at a chainage on the day of a campaign, counted from 0, at field temperature. */
  readonly columnAt: (place: TruePlace) => Column;
  /** Mean log10(ohm-m) between two depths, at field temperature. */
  readonly meanLog10: (place: TruePlace, top_m: number, base_m: number) => number;
}

export interface TruePlace {
  readonly chainage_m: number;
  /** Default 0, the first. */
  readonly campaign?: number;
  /** Default "crest". */
  readonly line?: string;
}

/** The ground by line. */
export type Grounds = Readonly<Record<"crest" | "toe", Ground>>;

/** The middle of October and of April, from 2031 on. */
export function startOf(campaign: number): number {
  return Date.UTC(2031, 9 + 6 * campaign, 14, 8) / 1000;
}

export function truthOf(grounds: Grounds, changes: readonly GroundChange[]): Truth {
  const columnAt = ({ chainage_m, campaign = 0, line = "crest" }: TruePlace) => {
    const here = line === "toe" ? grounds.toe : grounds.crest;
    const seen = changes.filter(({ since = 1 }) => campaign >= since && line !== "toe");
    const time_s = startOf(campaign);
    const warmth = (z: number) => log10OverThatAt25(soilTemperature_degC(z, time_s));
    return seen
      .filter(({ from_m, to_m }) => chainage_m >= from_m && chainage_m <= to_m)
      .reduce(raised, shifted(here.columnAt(chainage_m), warmth));
  };
  return {
    boundaries_m: grounds.crest.boundaries_m,
    changes,
    columnAt,
    meanLog10: (place, top_m, base_m) => meanLog10(columnAt(place), top_m, base_m),
  };
}

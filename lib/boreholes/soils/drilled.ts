import { itemAt } from "../../numerics/arrays.js";
import type { Borehole } from "../../survey/survey.js";
import type { Told } from "./gaussian-process.js";
import type { Ground } from "./ground.js";
import type { SoilPlace } from "./soil-kernel.js";

/** What every model of a property needs of the bank and its boreholes. */
export interface Drilled {
  readonly ground: Ground;
  readonly boreholes: readonly Borehole[];
  /** The k slices at n chainages; null without an estimate. */
  readonly places: readonly (readonly (SoilPlace | null)[])[];
  /** Moments of log10 resistivity along the bank. */
  readonly middle: Told;
}

/** Fewer boreholes cannot tell a relation from chance: two points always lie on a line. */
export const FEWEST = 3;

/** Slices at boreholes with a value there, one after the other. */
export function samplesOf<Value>(
  { ground, boreholes }: Drilled,
  read: (borehole: Borehole, slice: number) => Value | null,
) {
  return boreholes.flatMap((hole) =>
    ground.slices.flatMap((slice, k) => {
      const place = ground.at(hole.chainage_m, k);
      const value = place === null ? null : read(hole, k);
      return place === null || value === null ? [] : [{ hole, slice, place, value }];
    }),
  );
}

/** How many boreholes samples come from. */
export const boreholesIn = (samples: readonly { readonly hole: Borehole }[]) =>
  new Set(samples.map(({ hole }) => hole.borehole)).size;

/** A column for each slice: what `of` says of each place, NaN without an estimate. */
export function columns(
  places: Drilled["places"],
  of: (place: SoilPlace, slice: number, station: number) => number,
): readonly Float64Array[] {
  return places.map((row, k) =>
    Float64Array.from(row, (_, i) => {
      const place = itemAt(row, i);
      return place === null ? Number.NaN : of(place, k, i);
    }),
  );
}

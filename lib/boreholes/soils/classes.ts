import { itemAt } from "../../numerics/arrays.js";
import { classModel } from "./class-model.js";
import { boreholesIn, columns, type Drilled, FEWEST, samplesOf } from "./drilled.js";
import { classShares, greatestShare } from "./logged.js";
import type { ClassesLeftOut, SoilClass } from "./soils.js";

export interface ModelledClasses {
  readonly classes: readonly SoilClass[];
  readonly leftOut: ClassesLeftOut;
}

/**
 * Probabilities of the kinds of ground that were logged; ground that no borehole met has none. Null
 * where fewer than three boreholes were logged.
 */
export function soilClasses(drilled: Drilled): ModelledClasses | null {
  const samples = samplesOf(drilled, ({ strata }, k) =>
    classShares(strata, itemAt(drilled.ground.slices, k)),
  );
  if (boreholesIn(samples) < FEWEST) return null;
  const soils = [...new Set(samples.flatMap(({ value }) => [...value.keys()]))].sort();
  const borehole = samples.map(({ hole }) => hole.borehole);
  const model = classModel({
    places: samples.map(({ place }) => place),
    shares: samples.map(({ value }) => soils.map((soil) => value.get(soil) ?? 0)),
    borehole,
  });
  const told = drilled.places.map((row) => row.map((place) => (place ? model.at(place) : null)));
  const classes = soils.map((soil, c) => ({
    soil,
    probability: columns(drilled.places, (_, k, i) => itemAt(told, k)[i]?.[c] ?? Number.NaN),
  }));
  const logged = samples.map(({ value }) => greatestShare(value));
  const byOthers = model.leftOut.map((one) => itemAt(soils, one.indexOf(Math.max(...one))));
  return { classes, leftOut: leftOutOf({ byOthers, logged, borehole }) };
}

interface LeftOut {
  /** For each sample, the most probable kind by the other boreholes. */
  readonly byOthers: readonly string[];
  readonly logged: readonly string[];
  readonly borehole: readonly string[];
}

function leftOutOf({ byOthers, logged, borehole }: LeftOut): ClassesLeftOut {
  const commonest = logged.map((_, i) =>
    commonestOf(logged.filter((_own, j) => borehole[j] !== borehole[i])),
  );
  const right = (guesses: readonly string[]) =>
    guesses.filter((guess, i) => guess === logged[i]).length;
  return { right: right(byOthers), count: logged.length, commonestRight: right(commonest) };
}

function commonestOf(soils: readonly string[]): string {
  const counts = new Map<string, number>();
  for (const soil of soils) counts.set(soil, (counts.get(soil) ?? 0) + 1);
  return greatestShare(counts);
}

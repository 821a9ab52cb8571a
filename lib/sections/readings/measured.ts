import { geometricFactor } from "../../earth/spread.js";
import type { ResistivityLine, ResistivityReading } from "../../survey/resistivity-line.js";
import { positionsOf, type SectionElectrode, type SectionSpread } from "../section-input.js";
import { type ArrayPlace, arrayPlace } from "./array-kind.js";

/** A line's electrodes in order along it, and its readings with numbers of that order. */
export interface MeasuredLine {
  readonly electrodes: readonly SectionElectrode[];
  /** The number in the file of each of them. */
  readonly numbers: readonly number[];
  readonly readings: readonly MeasuredReading[];
}

/** One reading as measured. */
export interface MeasuredReading extends ArrayPlace {
  readonly reading: ResistivityReading;
  /** Places along the line from 1; 0 is remote, NaN an electrode that the line has not. */
  readonly spread: SectionSpread;
  /** K over flat ground, m; infinite where the spread measures nothing. */
  readonly factor_m: number;
  /** V/I. */
  readonly resistance_ohm: number;
  /** K V/I; NaN where something is missing. */
  readonly apparent_ohm_m: number;
}

/** A line as measured: electrodes sorted by position, geometry and resistance of each reading. */
export function measuredLine(line: ResistivityLine): MeasuredLine {
  const sorted = line.electrodes
    .filter(({ x_m, elevation_m }) => Number.isFinite(x_m) && Number.isFinite(elevation_m))
    .sort((p, q) => p.x_m - q.x_m);
  const numbers = sorted.map(({ electrode }) => electrode);
  const electrodes = sorted.map(({ x_m, elevation_m }) => ({ x_m, elevation_m }));
  const placeOf = new Map(numbers.map((number, i) => [number, i + 1]));
  const placed = (number: number) => (number === 0 ? 0 : (placeOf.get(number) ?? Number.NaN));
  const readings = line.readings.map((reading) => {
    const { a, b, m, n } = reading;
    const spread = { a: placed(a), b: placed(b), m: placed(m), n: placed(n) };
    return measured(reading, spread, electrodes);
  });
  return { electrodes, numbers, readings };
}

const NOWHERE: ArrayPlace = {
  array: "other",
  group: "",
  x_m: Number.NaN,
  medianDepth_m: Number.NaN,
};

function measured(
  reading: ResistivityReading,
  spread: SectionSpread,
  electrodes: readonly SectionElectrode[],
): MeasuredReading {
  const resistance_ohm = reading.voltage_mV / reading.current_mA;
  const isKnown = [spread.a, spread.b, spread.m, spread.n].every((place) => !Number.isNaN(place));
  if (!isKnown) {
    const none = { factor_m: Number.NaN, apparent_ohm_m: Number.NaN };
    return { reading, spread, resistance_ohm, ...none, ...NOWHERE };
  }
  const factor_m = geometricFactor(positionsOf(spread, electrodes));
  const place = arrayPlace(spread, electrodes);
  const apparent_ohm_m = factor_m * resistance_ohm;
  return { reading, spread, factor_m, resistance_ohm, apparent_ohm_m, ...place };
}

import type { ResistivityLine } from "../../survey/resistivity-line.js";
import { usualSpacing } from "../model/section-cells.js";
import { type Causes, deadElectrodes, exchangedPairs, logInUse } from "./electrode-patterns.js";
import { type ErrorModel, errorModelOf, relativeVariance } from "./error-model.js";
import { type MeasuredLine, measuredLine } from "./measured.js";
import { apartness, standsApart } from "./neighbours.js";
import { outOfOrder, ownCause, placesOf, type RejectionLimits, sharedPlaces } from "./rejection.js";

/** A line's readings, each in use or with the cause why not, and how well they are known. */
export interface ScreenedLine extends MeasuredLine {
  /** "" for a reading in use. */
  readonly causes: readonly string[];
  readonly errors: ErrorModel;
  /** Standard deviation of ln R; NaN for a reading that is set aside. */
  readonly sd: Float64Array;
  /** What is wrong with electrodes, in sentences. */
  readonly remarks: readonly string[];
}

export interface ScreenSettings extends RejectionLimits {
  readonly share: number;
}

/** Sets readings aside by rule and finds their errors from repeats, reciprocals and stacking. */
export function screenLine(line: ResistivityLine, settings: ScreenSettings): ScreenedLine {
  const measured = measuredLine(line);
  const own = measured.readings.map((one) => ownCause(one, settings));
  const causes: Causes = [...own];
  const remarks = [
    ...orderRemarks(measured),
    ...setAsideSharedPlaces(measured, causes),
    ...setAsideExchanged(measured, causes),
    ...setAsideDead(measured, causes, own),
  ];
  const apart = apartness(measured.readings, logInUse(measured, causes));
  measured.readings.forEach((_, i) => {
    if (causes[i] === "" && standsApart(apart, i)) causes[i] = "stands apart from its neighbours";
  });
  const inUse = measured.readings.filter((_, i) => causes[i] === "");
  const errors = errorModelOf(inUse, settings.share);
  const sd = Float64Array.from(measured.readings, (one, i) =>
    causes[i] === "" ? Math.sqrt(relativeVariance(one, errors)) : Number.NaN,
  );
  return { ...measured, causes, errors, sd, remarks };
}

function orderRemarks(line: MeasuredLine): string[] {
  const late = outOfOrder(line);
  if (late.length === 0) return [];
  return [
    `Electrodes ${late.join(", ")} stand out of the order of their numbers; each is taken where ` +
      "the file puts it.",
  ];
}

function setAsideSharedPlaces(line: MeasuredLine, causes: Causes): string[] {
  const spacing_m = usualSpacing(line.electrodes.map(({ x_m }) => x_m));
  return sharedPlaces(line, spacing_m).map((pair) => {
    const cause = `electrodes ${numbersOf(line, pair)} share a place`;
    line.readings.forEach((one, i) => {
      if (placesOf(one).some((place) => pair.includes(place))) causes[i] = cause;
    });
    return `Electrodes ${numbersOf(line, pair)} share a place: readings with either are set aside.`;
  });
}

function setAsideExchanged(line: MeasuredLine, causes: Causes): string[] {
  const usable = causes.map((cause) => cause === "" || cause.startsWith("negative"));
  return exchangedPairs(line, usable).map((pair) => {
    const text = `electrodes ${numbersOf(line, pair)} look exchanged`;
    line.readings.forEach((one, i) => {
      if (usable[i] && placesOf(one).some((place) => pair.includes(place))) causes[i] = text;
    });
    return (
      `Electrodes ${numbersOf(line, pair)} look exchanged: readings with one of them fit in with ` +
      "their neighbours only the other way round. Readings with either are set aside."
    );
  });
}

function setAsideDead(line: MeasuredLine, causes: Causes, own: readonly string[]): string[] {
  const explained = causes.map((cause, i) => cause !== own[i]);
  return deadElectrodes(line, causes, explained).map((place) => {
    const number = line.numbers[place - 1];
    line.readings.forEach((one, i) => {
      if (explained[i] || !placesOf(one).includes(place)) return;
      causes[i] = `electrode ${number} without contact`;
    });
    return `Most readings with electrode ${number} are bad: all of them are set aside.`;
  });
}

function numbersOf({ numbers }: MeasuredLine, places: readonly number[]): string {
  return places.map((place) => numbers[place - 1]).join(" and ");
}

import type { MeasuredLine, MeasuredReading } from "./measured.js";

export interface RejectionLimits {
  readonly mostDeviation_pct: number;
  readonly leastVoltage_mV: number;
  readonly mostFactor_m: number;
}

/** Causes by which one reading is set aside by itself; "" where none holds. */
export function ownCause(one: MeasuredReading, limits: RejectionLimits): string {
  const { current_mA, voltage_mV, deviation_pct } = one.reading;
  if (!(current_mA > 0) || !Number.isFinite(voltage_mV)) return "no value";
  if (Number.isNaN(one.factor_m)) return "an electrode that the line does not have";
  if (!(Math.abs(one.factor_m) < limits.mostFactor_m)) {
    return "a spread that measures nothing";
  }
  if (deviation_pct > limits.mostDeviation_pct) {
    return `stacking deviation above ${limits.mostDeviation_pct} %`;
  }
  if (Math.abs(voltage_mV) < limits.leastVoltage_mV) {
    return `voltage under ${limits.leastVoltage_mV} mV`;
  }
  return one.apparent_ohm_m > 0 ? "" : "negative apparent resistivity";
}

/** Share of the usual spacing within which two electrodes stand at one place. */
const SAME_PLACE = 0.05;

/** Pairs of places of electrodes that share a position. */
export function sharedPlaces({ electrodes }: MeasuredLine, spacing_m: number): [number, number][] {
  const pairs: [number, number][] = [];
  for (let i = 1; i < electrodes.length; i++) {
    const gap = electrodes[i]!.x_m - electrodes[i - 1]!.x_m;
    if (!(gap > SAME_PLACE * spacing_m)) pairs.push([i, i + 1]);
  }
  return pairs;
}

/** Numbers of electrodes that do not come after the one numbered before them. */
export function outOfOrder({ numbers }: MeasuredLine): number[] {
  const falls = numbers.filter((number, i) => i > 0 && number < numbers[i - 1]!).length;
  const rises = numbers.length - 1 - falls;
  const sign = rises >= falls ? 1 : -1;
  return numbers.filter((number, i) => {
    const [before, after] = [numbers[i - 1], numbers[i + 1]];
    const isAfter = before === undefined || sign * (number - before) > 0;
    const isBefore = after === undefined || sign * (after - number) > 0;
    return !(isAfter && isBefore);
  });
}

/** The places of electrodes of a reading that are not remote. */
export function placesOf({ spread }: MeasuredReading): number[] {
  return [spread.a, spread.b, spread.m, spread.n].filter((place) => place > 0);
}

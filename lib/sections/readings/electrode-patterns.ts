import { geometricFactor } from "../../earth/spread.js";
import { positionsOf } from "../section-input.js";
import type { MeasuredLine, MeasuredReading } from "./measured.js";
import { apartness, standsApart } from "./neighbours.js";
import { placesOf } from "./rejection.js";

/** A cause for each reading, "" where none was found. */
export type Causes = string[];

/** An electrode needs so many readings before a pattern is seen in them. */
const LEAST_READINGS = 6;
/** Share of an electrode's readings that are bad, and how far above the others', in deviations. */
const MOSTLY = 0.6;
const DEVIATIONS = 4;

/** ln apparent resistivity of what is still in use; NaN for the others. */
export function logInUse({ readings }: MeasuredLine, causes: Causes): Float64Array {
  return Float64Array.from(readings, ({ apparent_ohm_m }, i) =>
    causes[i] === "" ? Math.log(apparent_ohm_m) : Number.NaN,
  );
}

/** Readings that are set aside by themselves, or stand apart from their neighbours. */
function badReadings(line: MeasuredLine, causes: Causes): boolean[] {
  const apart = apartness(line.readings, logInUse(line, causes));
  return line.readings.map((_, i) => causes[i] !== "" || standsApart(apart, i));
}

/**
 * Places of electrodes most of whose readings are bad while those of the others are not: the
 * worst first, each looked for without the readings of those found before, and without those that
 * another pattern explains.
 */
export function deadElectrodes(
  line: MeasuredLine,
  causes: Causes,
  explained: readonly boolean[],
): number[] {
  const bad = badReadings(line, causes);
  const found: number[] = [];
  const judged = line.readings
    .map((one, i) => ({ places: placesOf(one), isBad: bad[i]! }))
    .filter((_, i) => !explained[i]);
  for (;;) {
    const left = judged.filter(({ places }) => !places.some((place) => found.includes(place)));
    const next = worstElectrode(left, line.electrodes.length);
    if (next === null) return found;
    found.push(next);
  }
}

interface Judged {
  readonly places: readonly number[];
  readonly isBad: boolean;
}

function worstElectrode(readings: readonly Judged[], electrodes: number): number | null {
  const all = tally(readings);
  let worst: { place: number; share: number } | null = null;
  for (let place = 1; place <= electrodes; place++) {
    const own = tally(readings.filter(({ places }) => places.includes(place)));
    if (own.count < LEAST_READINGS || all.count === own.count) continue;
    const share = own.bad / own.count;
    const usual = (all.bad - own.bad) / (all.count - own.count);
    const deviation = Math.sqrt((usual * (1 - usual) + 0.01) / own.count);
    if (share < MOSTLY || share < usual + DEVIATIONS * deviation) continue;
    if (worst === null || share > worst.share) worst = { place, share };
  }
  return worst?.place ?? null;
}

function tally(readings: readonly Judged[]) {
  return { count: readings.length, bad: readings.filter(({ isBad }) => isBad).length };
}

/** Cost of a reading that is negative or stands a factor e from its neighbours, or more. */
const MOST_COST = 1;
/** Exchanged electrodes cost this much a reading, and this share of it once they are taken back. */
const RAISED = 0.1;
const LOWERED = 0.5;

/**
 * Pairs of neighbouring electrodes that were connected the wrong way round: the readings that use
 * one of them fit in among their neighbours once the two are exchanged, and do not as they are. The
 * clearest first, each looked for without the readings of those found before.
 */
export function exchangedPairs(line: MeasuredLine, usable: readonly boolean[]): [number, number][] {
  const pairs: [number, number][] = [];
  let left = usable;
  for (;;) {
    const pair = clearestExchange(line, left);
    if (pair === null) return pairs;
    pairs.push(pair);
    left = left.map((is, i) => is && !placesOf(line.readings[i]!).some((p) => pair.includes(p)));
  }
}

/** Readings that use one of two electrodes and not the other. */
function usesOneOf(one: MeasuredReading, pair: readonly [number, number]): boolean {
  return placesOf(one).filter((place) => pair.includes(place)).length === 1;
}

function clearestExchange(line: MeasuredLine, usable: readonly boolean[]): [number, number] | null {
  let clearest: { pair: [number, number]; lowered: number } | null = null;
  const costs = costsOf(line, usable);
  for (let place = 1; place < line.electrodes.length; place++) {
    const pair: [number, number] = [place, place + 1];
    const own = readingsWhere(line, usable, (one) => usesOneOf(one, pair));
    if (own.length < LEAST_READINGS) continue;
    // Where many readings are bad anyhow, those of the pair are so besides.
    const others = readingsWhere(line, usable, (one) => {
      return !placesOf(one).some((at) => pair.includes(at));
    });
    const usual = meanOf(costs, others);
    const asIs = meanOf(costs, own) - usual;
    if (!(asIs > RAISED)) continue;
    const back = meanOf(costsOf(withExchanged(line, pair), usable), own) - usual;
    const lowered = (asIs - back) * own.length;
    if (back < LOWERED * asIs && lowered > (clearest?.lowered ?? 0)) clearest = { pair, lowered };
  }
  return clearest?.pair ?? null;
}

/** Indices of usable readings. */
function readingsWhere(
  { readings }: MeasuredLine,
  usable: readonly boolean[],
  holds: (one: MeasuredReading) => boolean,
): number[] {
  return readings.flatMap((one, i) => (usable[i] && holds(one) ? [i] : []));
}

/** How far each reading stands from its neighbours, up to `MOST_COST`, which is a negative one's. */
function costsOf(line: MeasuredLine, usable: readonly boolean[]): Float64Array {
  const log = Float64Array.from(line.readings, ({ apparent_ohm_m }, i) =>
    usable[i] ? Math.log(apparent_ohm_m) : Number.NaN,
  );
  const { difference } = apartness(line.readings, log);
  return Float64Array.from(line.readings, ({ apparent_ohm_m }, i) => {
    return apparent_ohm_m > 0 ? Math.min(MOST_COST, Math.abs(difference[i]!) || 0) : MOST_COST;
  });
}

function meanOf(costs: Float64Array, indices: readonly number[]): number {
  return indices.reduce((sum, i) => sum + costs[i]!, 0) / Math.max(1, indices.length);
}

function withExchanged(line: MeasuredLine, [one, other]: readonly [number, number]): MeasuredLine {
  const swap = (place: number) => (place === one ? other : place === other ? one : place);
  const readings = line.readings.map((reading): MeasuredReading => {
    const { a, b, m, n } = reading.spread;
    if (![a, b, m, n].some((place) => place === one || place === other)) return reading;
    const spread = { a: swap(a), b: swap(b), m: swap(m), n: swap(n) };
    const factor_m = geometricFactor(positionsOf(spread, line.electrodes));
    return { ...reading, factor_m, apparent_ohm_m: factor_m * reading.resistance_ohm };
  });
  return { ...line, readings };
}

import type { ScreenedLine } from "../readings/screen-line.js";
import type { SectionSpread } from "../section-input.js";

/** The spreads that two campaigns of a line share. */
export interface PairedLines {
  /** Electrodes of the later campaign; apparent resistivities are geometric means of the two. */
  readonly mean: ScreenedLine;
  /** ln of later over earlier apparent resistivity, and standard deviation, for each of them. */
  readonly difference: Float64Array;
  readonly sd: Float64Array;
  /** Spreads that one campaign alone has in use. */
  readonly unpaired: number;
}

/** Pairs readings in use by their four electrodes; a repeat is left out. */
export function pairedLines(earlier: ScreenedLine, later: ScreenedLine): PairedLines {
  const before = inUse(earlier);
  const after = inUse(later);
  const keys = [...after.keys()].filter((key) => before.has(key));
  const pairs = keys.map((key) => [before.get(key)!, after.get(key)!] as const);
  const ratio = ([one, other]: readonly [number, number]) =>
    later.readings[other]!.apparent_ohm_m / earlier.readings[one]!.apparent_ohm_m;
  const sd = Float64Array.from(pairs, ([one, other]) =>
    Math.hypot(earlier.sd[one]!, later.sd[other]!),
  );
  const readings = pairs.map((pair) => {
    const reading = later.readings[pair[1]]!;
    return { ...reading, apparent_ohm_m: reading.apparent_ohm_m / Math.sqrt(ratio(pair)) };
  });
  return {
    mean: { ...later, readings, causes: readings.map(() => ""), sd: sd.map((value) => value / 2) },
    difference: Float64Array.from(pairs, (pair) => Math.log(ratio(pair))),
    sd,
    unpaired: before.size + after.size - 2 * keys.length,
  };
}

/** Readings in use by their spread, the first of repeats. */
function inUse({ readings, causes }: ScreenedLine): Map<string, number> {
  const found = new Map<string, number>();
  readings.forEach(({ spread }, i) => {
    if (causes[i] === "" && !found.has(keyOf(spread))) found.set(keyOf(spread), i);
  });
  return found;
}

const keyOf = ({ a, b, m, n }: SectionSpread) => `${a} ${b} ${m} ${n}`;

import { embankmentFactors } from "../../lib/sections/embankment-factor.js";
import { sectionResponse } from "../../lib/sections/section-response.js";
import { chance } from "./chance.js";
import { FACTS } from "./facts.js";
import { type Cell, fixed } from "./formats.js";
import type { Ground } from "./ground.js";
import { locate } from "./positions.js";
import {
  ELECTRODE_LINES,
  type ElectrodeLine,
  electrodeX_m,
  lineElevation_m,
  type Spread,
} from "./resistivity-lines.js";
import { riverBeside, sectionEarth } from "./section-earth.js";

/** Electrodes and readings of the lines. */

/** Of the forward model: finer than its default, which an inversion uses; good to 0.1 %. */
const FINENESS = Object.freeze({ cellsPerSpacing: 4 });

export const ELECTRODE_HEADER = [
  "line",
  "electrode",
  "x_m",
  "elevation_m",
  "longitude",
  "latitude",
];

export function electrodeRows(): readonly (readonly Cell[])[] {
  return ELECTRODE_LINES.flatMap((line) => {
    const random = chance(`levels-${line.line}`);
    return electrodeX_m(line).map((x_m, k) => {
      const across = line.runs === "across";
      const chainage_m = line.chainage_m + (across ? 0 : x_m);
      const { longitude, latitude } = locate(chainage_m, line.offset_m + (across ? x_m : 0));
      const elevation_m = lineElevation_m(line, x_m) + 0.015 * random.normal();
      const place = [fixed(x_m, 2), fixed(elevation_m, 2), fixed(longitude, 7), fixed(latitude, 7)];
      return [line.line, k + 1, ...place];
    });
  });
}

export const RESISTIVITY_HEADER = [
  ...["line", "a", "b", "m", "n"],
  ...["current_mA", "voltage_mV", "deviation_pct", "repeat", "campaign"],
];

export function resistivityRows(ground: Ground): readonly (readonly Cell[])[] {
  return ELECTRODE_LINES.flatMap((line) => {
    const resistances = resistances_ohm(ground, line);
    const measure = voltmeter(line);
    return fieldOrder(line).map(({ spread, index, repeat }) => [
      line.line,
      ...[spread.a, spread.b, spread.m, spread.n],
      ...measure(spread, resistances[index]!),
      repeat,
      line.campaign,
    ]);
  });
}

/** Voltage over current of every spread, without noise. */
function resistances_ohm(ground: Ground, line: ElectrodeLine): readonly number[] {
  const x = electrodeX_m(line);
  const electrodes = x.map((x_m) => ({ x_m, elevation_m: lineElevation_m(line, x_m) }));
  const water = riverBeside(line);
  const earth = { ...sectionEarth(ground, line), ...(water && { water }) };
  const apparent = sectionResponse(earth, electrodes, line.spreads, FINENESS);
  const shape = line.runs === "along" ? bankFactors(line) : apparent.map(() => 1);
  return apparent.map((value, k) => (value * shape[k]!) / factor_m(line.spreads[k]!, x));
}

/** Lines along the crest feel the slopes beside them. */
function bankFactors(line: ElectrodeLine): readonly number[] {
  const x = electrodeX_m(line);
  const { crestWidth_m, watersideSlope, landsideSlope } = FACTS;
  const height_m = FACTS.crestElevation_m - FACTS.foundationElevation_m;
  const offset_m = -line.offset_m;
  const shape = { crestWidth_m, height_m, watersideSlope, landsideSlope, offset_m };
  const at = (electrode: number) => x[electrode - 1]!;
  const places = line.spreads.map((s) => {
    return { a_m: at(s.a), b_m: at(s.b), m_m: at(s.m), n_m: at(s.n) };
  });
  return embankmentFactors(shape, places);
}

/** Geometric factor over flat ground. */
function factor_m({ a, b, m, n }: Spread, x: readonly number[]): number {
  const inverse = (p: number, q: number) => 1 / Math.abs(x[p - 1]! - x[q - 1]!);
  return (2 * Math.PI) / (inverse(a, m) - inverse(b, m) - inverse(a, n) + inverse(b, n));
}

interface Shot {
  readonly spread: Spread;
  /** Of the spread whose resistance it measures. */
  readonly index: number;
  readonly repeat: number | null;
}

/** All spreads, then some of them again, then some with current and potential exchanged. */
function fieldOrder(line: ElectrodeLine): readonly Shot[] {
  const random = chance(`repeats-${line.line}`);
  const left = line.spreads.map((_, index) => index);
  const some = (count: number) =>
    Array.from({ length: count }, () => left.splice(random.integer(left.length), 1)[0]!);
  const once = line.spreads.map((spread, index) => ({ spread, index, repeat: null }));
  const again = some(16).map((index) => ({ spread: line.spreads[index]!, index, repeat: 1 }));
  const exchanged = some(14).map((index) => {
    const { a, b, m, n } = line.spreads[index]!;
    return { spread: { a: m, b: n, m: a, n: b }, index, repeat: null };
  });
  return [...once, ...again, ...exchanged];
}

/** Current, voltage and stacking deviation as written down. */
function voltmeter(line: ElectrodeLine): (spread: Spread, ohm: number) => readonly Cell[] {
  const random = chance(`voltage-${line.line}`);
  const contacts = Array.from({ length: line.electrodes }, (_, k) =>
    line.badContacts.includes(k + 1) ? 0.16 : Math.exp(0.22 * random.normal()),
  );
  return ({ a, b, m, n }, ohm) => {
    const worst = Math.min(...[a, b, m, n].map((electrode) => contacts[electrode - 1]!));
    const flow = Math.min(contacts[a - 1]!, contacts[b - 1]!);
    const current = Math.min(200, Math.max(20, 130 * flow));
    const clean = current * ohm;
    const loose = worst < 0.2 ? 0.06 : 0;
    const spike = random.uniform() < 0.008 ? 0.25 : 0;
    const sd = Math.hypot(0.02, (0.01 + loose + spike) * clean);
    const stack = (0.35 * sd * (0.7 + 0.6 * random.uniform())) / Math.abs(clean);
    const voltage = clean + sd * random.normal();
    return [fixed(current, 1), fixed(voltage, 3), fixed(100 * stack, 2)];
  };
}

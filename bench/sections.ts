import { invertSection, spreadResponse } from "../lib/index.js";
import { positionsOf, type SectionSpread } from "../lib/sections/section-input.js";
import type { ResistivityLine } from "../lib/survey/resistivity-line.js";
import { benchSectionSystems } from "./section-systems.js";
import { type BenchRow, timedLong } from "./timed.js";

const EARTH = { resistivity_ohm_m: [60, 20, 80], thickness_m: [1.2, 3] };
const READINGS = 1000;

const ELECTRODES = [32, 64, 128];

/** The systems of a forward run, and whole inversions, by number of electrodes. */
export async function benchSections(): Promise<readonly BenchRow[]> {
  const rows: BenchRow[] = [...benchSectionSystems(ELECTRODES)];
  for (const electrodes of ELECTRODES) {
    const line = lineOf(electrodes);
    const what = `section: ${electrodes} electrodes, ${line.readings.length} readings`;
    rows.push(await timedLong(what, () => invertSection(line), 1));
  }
  return rows;
}

function electrodesOf(count: number) {
  return Array.from({ length: count }, (_, x_m) => ({ x_m, elevation_m: 0 }));
}

/** Wenner and dipole-dipole readings over three layers, evenly thinned to at most 1,000. */
function lineOf(count: number): ResistivityLine {
  const electrodes = electrodesOf(count);
  const all = [...wenner(count), ...dipoles(count)];
  const step = Math.max(1, all.length / READINGS);
  const spreads = all.filter((_, i) => Math.floor(i / step) !== Math.floor((i - 1) / step));
  const readings = spreads.map((spread, i) => ({
    ...{ row: i + 2, ...spread, current_mA: 100, deviation_pct: 0.5, repeat: null, campaign: null },
    voltage_mV: voltage_mV(spread, electrodes, i),
  }));
  return {
    ...{ line: "B", runs: "along", chainage_m: 0, offset_m: 0, readings },
    electrodes: electrodes.map((place, i) => ({ electrode: i + 1, ...place })),
  };
}

function wenner(count: number): SectionSpread[] {
  const sizes = Array.from({ length: Math.floor(count / 4) }, (_, k) => k + 1);
  return sizes.flatMap((k) =>
    Array.from({ length: count - 3 * k }, (_, i) => {
      return { a: i + 1, b: i + 1 + 3 * k, m: i + 1 + k, n: i + 1 + 2 * k };
    }),
  );
}

function dipoles(count: number): SectionSpread[] {
  return [1, 2, 3, 4, 5, 6].flatMap((n) =>
    Array.from({ length: count - 2 - n }, (_, i) => {
      return { a: i + 2, b: i + 1, m: i + 2 + n, n: i + 3 + n };
    }),
  );
}

/** For 100 mA, 2 % off to either side in turn. */
function voltage_mV(
  spread: SectionSpread,
  electrodes: ReturnType<typeof electrodesOf>,
  index: number,
): number {
  const places = positionsOf(spread, electrodes);
  const inverse = (p: number, q: number) => 1 / Math.abs(p - q);
  const { a_m, b_m, m_m, n_m } = places;
  const sum = inverse(a_m, m_m) - inverse(b_m, m_m) - inverse(a_m, n_m) + inverse(b_m, n_m);
  const ohm = (spreadResponse(EARTH, places) * sum) / (2 * Math.PI);
  return 100 * ohm * (1 + 0.02 * Math.sin(7 * index));
}

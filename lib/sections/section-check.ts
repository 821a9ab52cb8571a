import { checkList, checkNumber, NOT_NEGATIVE, POSITIVE, type Rule } from "../earth/check.js";
import { spreadFaults } from "../earth/spread.js";
import { firstOf, groupedBy } from "../numerics/arrays.js";
import { type Fault, quoted } from "../step/step-error.js";
import {
  positionsOf,
  type SectionEarth,
  type SectionElectrode,
  type SectionSpread,
  type SectionWater,
} from "./section-input.js";

export interface SectionQuestion {
  readonly earth: SectionEarth;
  readonly electrodes: readonly SectionElectrode[];
  readonly spreads: readonly SectionSpread[];
}

/** Every fault of the input; a rule that many entries break is one fault. */
export function sectionFaults({ earth, electrodes, spreads }: SectionQuestion): readonly Fault[] {
  const faults: Fault[] = [];
  checkEarth(faults, earth);
  if (earth?.water !== undefined) checkWater(faults, earth.water);
  checkElectrodes(faults, electrodes);
  checkSpreads(faults, spreads, electrodes);
  return faults;
}

const FINITE: Rule = { code: "not-finite", expected: "a finite number", holds: Number.isFinite };

function checkEarth(faults: Fault[], earth: SectionEarth): void {
  checkEdges(faults, "earth.x_m", [earth?.x_m, FINITE]);
  checkEdges(faults, "earth.depth_m", [earth?.depth_m, NOT_NEGATIVE]);
  const rows = earth?.resistivity_ohm_m;
  const path = "earth.resistivity_ohm_m";
  if (!Array.isArray(rows)) {
    faults.push({ code: "not-a-list", path, expected: "a list of rows", received: quoted(rows) });
    return;
  }
  const [down, across] = [earth.depth_m?.length - 1, earth.x_m?.length - 1];
  const uneven = rows.findIndex((row) => row?.length !== across);
  if (rows.length !== down || uneven >= 0) {
    const expected = `${down} rows of ${across} values, one fewer than the edges`;
    const received =
      rows.length !== down
        ? `${rows.length} rows`
        : `${quoted(rows[uneven]?.length)} values in row ${uneven}`;
    faults.push({ code: "cell-count", path, expected, received });
  }
  const found: Fault[] = [];
  for (const [r, row] of rows.entries()) checkList(found, `${path}[${r}]`, [row, POSITIVE]);
  faults.push(...onePerRule(found));
}

/** −Infinity is a place: water on both sides. */
const PLACE: Rule = {
  code: "not-a-number",
  expected: "a number",
  holds: (value) => !Number.isNaN(value),
};

function checkWater(faults: Fault[], water: SectionWater): void {
  checkNumber(faults, "earth.water.level_m", [water?.level_m, FINITE]);
  checkNumber(faults, "earth.water.from_m", [water?.from_m, PLACE]);
  checkNumber(faults, "earth.water.resistivity_ohm_m", [water?.resistivity_ohm_m, POSITIVE]);
  const path = "earth.water.bed";
  if (!Array.isArray(water?.bed)) {
    const expected = "a list of points, empty where nothing is known";
    faults.push({ code: "not-a-list", path, expected, received: quoted(water?.bed) });
    return;
  }
  const found: Fault[] = [];
  for (const [i, point] of water.bed.entries()) {
    checkNumber(found, `${path}[${i}].x_m`, [point?.x_m, FINITE]);
    checkNumber(found, `${path}[${i}].elevation_m`, [point?.elevation_m, FINITE]);
  }
  faults.push(...onePerRule(found));
}

function checkEdges(faults: Fault[], path: string, [edges, rule]: [unknown, Rule]): void {
  const before = faults.length;
  checkList(faults, path, [edges, rule]);
  if (faults.length > before) return;
  const list = edges as readonly number[];
  const drop = list.findIndex((edge, i) => i > 0 && !(edge > list[i - 1]!));
  if (drop < 0 && list.length >= 2) return;
  const received = drop < 0 ? `${list.length} edges` : `${list[drop]} after ${list[drop - 1]}`;
  const expected = "two or more edges in ascending order";
  faults.push({ code: "not-ascending", path: at(path, drop), expected, received });
}

function at(path: string, index: number): string {
  return index < 0 ? path : `${path}[${index}]`;
}

function checkElectrodes(faults: Fault[], electrodes: readonly SectionElectrode[]): void {
  if (!Array.isArray(electrodes) || electrodes.length < 2) {
    const received = Array.isArray(electrodes) ? `${electrodes.length}` : quoted(electrodes);
    const expected = "a list of two electrodes or more";
    faults.push({ code: "electrode-count", path: "electrodes", expected, received });
    return;
  }
  const found: Fault[] = [];
  const seen = new Set<number>();
  for (const [i, electrode] of electrodes.entries()) {
    checkNumber(found, `electrodes[${i}].x_m`, [electrode?.x_m, FINITE]);
    checkNumber(found, `electrodes[${i}].elevation_m`, [electrode?.elevation_m, FINITE]);
    if (seen.has(electrode?.x_m)) found.push(sharedPosition(i, electrode.x_m));
    seen.add(electrode?.x_m);
  }
  faults.push(...onePerRule(found));
}

function sharedPosition(index: number, x_m: number): Fault {
  return {
    code: "electrodes-coincide",
    path: `electrodes[${index}].x_m`,
    expected: "a position that no other electrode has",
    received: quoted(x_m),
  };
}

function checkSpreads(
  faults: Fault[],
  spreads: readonly SectionSpread[],
  electrodes: readonly SectionElectrode[],
): void {
  if (!Array.isArray(spreads)) {
    const expected = "a list of spreads";
    faults.push({ code: "not-a-list", path: "spreads", expected, received: quoted(spreads) });
    return;
  }
  const count = Array.isArray(electrodes) ? electrodes.length : 0;
  const sound = faults.every(({ path }) => !path.startsWith("electrodes"));
  const found: Fault[] = [];
  for (const [i, spread] of spreads.entries()) {
    const path = `spreads[${i}]`;
    const wrong = numberFaults(path, spread, count);
    found.push(...wrong);
    if (wrong.length > 0 || !sound) continue;
    for (const fault of spreadFaults(positionsOf(spread, electrodes))) {
      found.push({ ...fault, path, received: numbersOf(spread) });
    }
  }
  faults.push(...onePerRule(found));
}

const NUMBERS = ["a", "b", "m", "n"] as const;

function numberFaults(path: string, spread: SectionSpread, count: number): Fault[] {
  const known = (value: unknown) =>
    Number.isInteger(value) && (value as number) >= 0 && (value as number) <= count;
  return NUMBERS.filter((name) => !known(spread?.[name])).map((name) => ({
    code: "no-such-electrode",
    path: `${path}.${name}`,
    expected: `an electrode's number, 1 to ${count}, or 0 for a remote one`,
    received: quoted(spread?.[name]),
  }));
}

function numbersOf(spread: SectionSpread): string {
  return NUMBERS.map((name) => `${name} ${spread[name]}`).join(", ");
}

/** The first fault of each code, with the number of the others in its hint. */
function onePerRule(faults: readonly Fault[]): Fault[] {
  const groups = groupedBy(faults, ({ code }) => code);
  return [...groups.values()].map((group) => {
    const hint = group.length > 1 ? { hint: `and ${group.length - 1} more like it` } : {};
    return { ...firstOf(group), ...hint };
  });
}

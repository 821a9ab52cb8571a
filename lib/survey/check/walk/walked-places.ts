import { firstOf, itemAt, lastOf, neighbours } from "../../../numerics/arrays.js";
import { extent } from "../../../numerics/statistics/present.js";
import { median } from "../../../numerics/statistics/robust.js";
import { chainageAt } from "../../bank/position.js";
import { distance_m, type Grid } from "../../bank/projection.js";
import type { Centreline } from "../../centreline.js";
import type { Pass } from "../../pass.js";
import type { CsvTable } from "../../read/table/csv-table.js";
import type { FaultLog } from "../faults.js";

/** Places of a walk that are looked at. */
const SAMPLE = 60;

interface Walked {
  readonly table: CsvTable;
  readonly positions: readonly Grid[];
  readonly centreline: Centreline;
}

/**
 * Notes a walk whose positions are coarse, beside the bank, beyond its ends or too far apart in
 * time.
 */
export function noteWalkedPlaces(walked: Walked, log: FaultLog): void {
  const { table, positions, centreline } = walked;
  const known = positions.filter(({ easting_m }) => !Number.isNaN(easting_m));
  if (known.length < 5) return;
  noteCoarse(table, log);
  const step = Math.max(1, known.length / SAMPLE);
  const places = known
    .filter((_, i) => i % step < 1)
    .map((position) => chainageAt(centreline, position));
  noteBeside(table, places, log);
  noteBeyond(walked, places, log);
  notePace(table, positions, log);
}

/** Decimals of a degree that tell readings a metre apart. */
const FEW_DECIMALS = 4;

function noteCoarse(table: CsvTable, log: FaultLog): void {
  const degrees = [...table.numbers("longitude"), ...table.numbers("latitude")];
  const given = degrees.filter((value) => !Number.isNaN(value));
  if (given.length === 0 || given.some((value) => !isRounded(value))) return;
  log.caution(
    `${table.file}: positions have ${FEW_DECIMALS} decimals of a degree at the most, which is 11 m`,
  );
}

function isRounded(degrees: number): boolean {
  const scaled = degrees * 10 ** FEW_DECIMALS;
  return Math.abs(scaled - Math.round(scaled)) < 1e-6;
}

type Place = ReturnType<typeof chainageAt>;

/** A crest's own walk is rarely so far from its centreline, m. */
const BESIDE_M = 30;

function noteBeside(table: CsvTable, places: readonly Place[], log: FaultLog): void {
  if (table.texts("line").some((line) => line !== "")) return;
  const away_m = median(places.map(({ distance_m: distance }) => distance));
  if (!(away_m > BESIDE_M)) return;
  const hint = "another line, or another datum?";
  log.caution(`${table.file} runs ${away_m.toFixed(0)} m beside the centreline; ${hint}`);
}

const SHARE_BEYOND = 0.05;

function noteBeyond({ table, centreline }: Walked, places: readonly Place[], log: FaultLog): void {
  const { chainage_m } = centreline;
  const [first_m, last_m] = [firstOf(chainage_m), lastOf(chainage_m)];
  const beyond = places.filter((at) => at.chainage_m < first_m || at.chainage_m > last_m);
  const share = beyond.length / places.length;
  if (!(share > SHARE_BEYOND)) return;
  const part = `${(100 * share).toFixed(0)} % of its readings`;
  log.caution(`${table.file}: ${part} lie beyond the ends of the centreline, which go on straight`);
}

/** Nobody walks, and hardly anybody drives coils, so fast, m/s. */
const FASTEST_M_PER_S = 10;

function notePace(table: CsvTable, positions: readonly Grid[], log: FaultLog): void {
  const times = table.numbers("time");
  const paces = neighbours([...positions.keys()]).flatMap(([i, j]) => {
    const [moved_m, passed_s] = [
      distance_m(itemAt(positions, i), itemAt(positions, j)),
      itemAt(times, j) - itemAt(times, i),
    ];
    return passed_s > 0 && !Number.isNaN(moved_m) ? [moved_m / passed_s] : [];
  });
  const pace = median(paces);
  if (!(pace > FASTEST_M_PER_S)) return;
  log.caution(
    `${table.file}: by its times and positions it was walked at ${pace.toFixed(0)} m/s; which are off?`,
  );
}

/** A part of the bank this small is more likely a slip than a survey. */
const SMALL_PART = 0.1;
const LONG_BANK_M = 1000;

/** Notes readings that together cover a small part of a long centreline. */
export function noteReach(
  passes: readonly Pick<Pass, "easting_m" | "northing_m" | "count">[],
  centreline: Centreline,
  log: FaultLog,
): void {
  const { chainage_m } = centreline;
  const length_m = lastOf(chainage_m) - firstOf(chainage_m);
  if (!(length_m > LONG_BANK_M)) return;
  const chainages = passes.flatMap(({ easting_m, northing_m, count }) => {
    const step = Math.max(1, Math.floor(count / SAMPLE));
    const rows = Array.from({ length: Math.ceil(count / step) }, (_, i) => i * step);
    return [...rows, count - 1].map((row) => {
      const at = { easting_m: itemAt(easting_m, row), northing_m: itemAt(northing_m, row) };
      return chainageAt(centreline, at).chainage_m;
    });
  });
  const { least, most } = extent(chainages);
  if (!(most - least < SMALL_PART * length_m)) return;
  const km = (metres: number) => `${(metres / 1000).toFixed(metres < 1000 ? 2 : 1)} km`;
  log.caution(`the readings cover ${km(most - least)} of the centreline's ${km(length_m)}`);
}

import { chainageAt } from "../../bank/position.js";
import type { Grid, LonLat, MapProjection } from "../../bank/projection.js";
import type { Centreline } from "../../centreline.js";
import type { FaultLog } from "../../check/faults.js";
import { checkPositionsAgree } from "../../check/plausible-positions.js";
import type { CsvRow, CsvTable } from "../table/csv-table.js";
import { globeHint, gridHint, projected } from "./position-hints.js";

/** Where the survey is: what positions are checked against. */
export interface Frame {
  readonly centreline: Centreline;
  readonly projection: MapProjection;
  /** Positions further from the centreline are faults, m. */
  readonly farFromCentreline_m: number;
}

const nowhere: Grid = { easting_m: Number.NaN, northing_m: Number.NaN };

// Further out no map grid reaches; it also keeps squares of distances finite.
const LARGEST_COORDINATE_M = 1e8;

const PAIRS = [
  ["longitude", "latitude"],
  ["easting", "northing"],
] as const;

/** Projected positions of a table's rows; NaN where the file gives none or a faulty one. */
export function locate(table: CsvTable, frame: Frame, log: FaultLog): readonly Grid[] {
  for (const pair of PAIRS) checkPair(table, pair, log);
  checkPositionsAgree(table, frame.projection, log);
  return table.rows.map((row) => {
    const grid = { easting_m: row.number("easting"), northing_m: row.number("northing") };
    if (Number.isFinite(grid.easting_m + grid.northing_m)) return onGrid(row, { grid, frame }, log);
    const at = { longitude: row.number("longitude"), latitude: row.number("latitude") };
    return Number.isFinite(at.longitude + at.latitude) ? onGlobe(row, { at, frame }, log) : nowhere;
  });
}

/**
 * Half a position is a fault: of the header where a column is absent, of the row where a cell is.
 */
function checkPair(table: CsvTable, [one, other]: readonly [string, string], log: FaultLog): void {
  if (table.has(one) !== table.has(other)) {
    const [given, field] = table.has(one) ? [one, other] : [other, one];
    const rule = `a column of the file, as ${given} is`;
    const place = { file: table.file, row: 1, field };
    log.add({ code: "missing-column", ...place, rule, value: "no such column" });
    return;
  }
  for (const row of table.has(one) ? table.rows : []) {
    if (row.isBlank(one) === row.isBlank(other)) continue;
    const [field, given] = row.isBlank(one) ? [one, other] : [other, one];
    const rule = `given where ${given} is (${row.number(given)})`;
    log.add({ code: "half-position", ...row.place(field), rule, value: "a blank cell" });
  }
}

function onGrid(
  row: CsvRow,
  { grid, frame }: { readonly grid: Grid; readonly frame: Frame },
  log: FaultLog,
): Grid {
  if (isNear(frame, grid)) return grid;
  const isSwapped = isNear(frame, { easting_m: grid.northing_m, northing_m: grid.easting_m });
  const hint = isSwapped
    ? "easting and northing look swapped"
    : (gridHint(grid, (other) => isNear(frame, other)) ??
      `coordinates are read as EPSG:${frame.projection.epsg}`);
  const value = `${grid.easting_m}, ${grid.northing_m}${awayText(frame, grid)}`;
  log.add({ ...farFault(frame, isSwapped), ...row.place("easting"), value, hint });
  return nowhere;
}

function onGlobe(
  row: CsvRow,
  { at, frame }: { readonly at: LonLat; readonly frame: Frame },
  log: FaultLog,
): Grid {
  const { longitude, latitude } = at;
  const grid = projected(frame.projection, at);
  if (isNear(frame, grid)) return grid;
  const swapped = frame.projection.toGrid({ longitude: latitude, latitude: longitude });
  const isSwapped = isNear(frame, swapped);
  const hint = isSwapped
    ? "latitude and longitude look swapped"
    : globeHint(at, (other) => isNear(frame, other), frame.projection);
  const value = `${longitude}, ${latitude}${awayText(frame, grid)}`;
  log.add({ ...farFault(frame, isSwapped), ...row.place("longitude"), value, hint });
  return nowhere;
}

function farFault({ farFromCentreline_m }: Frame, isSwapped: boolean) {
  const rule = `within ${farFromCentreline_m} m of the centreline`;
  return { code: isSwapped ? "position-swapped" : "position-far", rule };
}

function awayText(frame: Frame, grid: Grid): string {
  const away_m = awayFrom(frame, grid);
  return away_m < 1e5 ? `, ${Math.round(away_m).toLocaleString("en")} m away` : "";
}

function isNear(frame: Frame, grid: Grid): boolean {
  return awayFrom(frame, grid) <= frame.farFromCentreline_m;
}

/** Distance from the centreline, m; infinite where there is no position on the grid. */
function awayFrom({ centreline }: Frame, grid: Grid): number {
  const size = Math.max(Math.abs(grid.easting_m), Math.abs(grid.northing_m));
  return size <= LARGEST_COORDINATE_M ? chainageAt(centreline, grid).distance_m : Infinity;
}

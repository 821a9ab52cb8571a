import { median } from "../../numerics/statistics/robust.js";
import { distance_m, type MapProjection } from "../bank/projection.js";
import type { CsvTable } from "../read/table/csv-table.js";
import type { FaultLog } from "./faults.js";

const NAMES = ["longitude", "latitude", "easting", "northing"] as const;

/** Logs a walk that has the columns of positions and nothing in them. */
export function checkAnyPosition(table: CsvTable, log: FaultLog): void {
  const given = NAMES.filter((name) => table.has(name));
  if (given.length === 0 || table.count === 0) return;
  if (!given.every((name) => table.rows.every((row) => row.isBlank(name)))) return;
  const rule = "given in some rows: without any position a walk cannot be placed along the bank";
  const place = { file: table.file, field: given[0] ?? null };
  log.add({ code: "no-positions", ...place, rule, value: "blank cells in all rows" });
}

/** Two systems of coordinates may differ by rounding and by epochs, m. */
const NOTED_M = 3;
const REFUSED_M = 20;

/** Logs positions that longitude and latitude give elsewhere than easting and northing. */
export function checkPositionsAgree(
  table: CsvTable,
  projection: MapProjection,
  log: FaultLog,
): void {
  if (!NAMES.every((name) => table.has(name))) return;
  const apart_m = table.rows.map((row) => {
    const { longitude, latitude, ...grid } = {
      ...{ longitude: row.number("longitude"), latitude: row.number("latitude") },
      ...{ easting_m: row.number("easting"), northing_m: row.number("northing") },
    };
    const isOnGlobe = Math.abs(longitude) <= 180 && Math.abs(latitude) <= 90;
    return isOnGlobe ? distance_m(grid, projection.toGrid({ longitude, latitude })) : Number.NaN;
  });
  const typical_m = median(apart_m.filter((apart) => !Number.isNaN(apart)));
  if (!(typical_m > NOTED_M)) return;
  const away = `${Math.round(typical_m).toLocaleString("en")} m`;
  if (typical_m > REFUSED_M) {
    const place = { file: table.file, field: "easting" };
    const rule = `where longitude and latitude are, in EPSG:${projection.epsg}`;
    const hint = "is survey.crs that of the columns?";
    const value = `a median of ${away} away`;
    log.add({ code: "positions-disagree", ...place, rule, value, hint });
  } else {
    log.caution(`${table.file}: longitude and latitude lie ${away} from easting and northing`);
  }
}

import { neighbours } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import { countText } from "../../step/show/html.js";
import type { FaultLog } from "../check/faults.js";
import { checkInstrument } from "../check/plausible-instrument.js";
import { checkAnyPosition } from "../check/plausible-positions.js";
import { checkFrozenTimes } from "../check/plausible-times.js";
import {
  checkFrozenPositions,
  checkMarksForNone,
  noteEmptyChannels,
} from "../check/plausible-values.js";
import { checkUnits } from "../check/units.js";
import { checkChannelValues } from "../check/walk/channel-values.js";
import { checkDeclaredChannels } from "../check/walk/declared-channels.js";
import { unreadValues } from "../check/walk/unread-values.js";
import { noteWalkedPlaces } from "../check/walk/walked-places.js";
import type { Instrument } from "../instrument.js";
import type { Pass } from "../pass.js";
import { MARKS } from "../reading-causes.js";
import { checkTimes } from "./check-times.js";
import { type Frame, locate } from "./frame/locate.js";
import type { CsvTable } from "./table/csv-table.js";

/**
 * One `readings` resource as a pass, its readings yet to be placed along the bank. Null where the
 * file has no rows or the survey no centreline.
 */
export function readPass(table: CsvTable, frame: Frame | null, log: FaultLog): Pass | null {
  const instrument = table.resource.instrument as Instrument;
  checkReadings(table, instrument, log);
  const setAside = unreadMarks(table, instrument, log);
  const { count } = table;
  if (count === 0 || frame === null) return null;
  const positions = locate(table, frame, log);
  noteWalkedPlaces({ table, positions, centreline: frame.centreline }, log);
  const values = instrument.channels.map(({ field }) => table.numbers(field));
  return {
    resource: table.resource.name,
    file: table.file,
    instrument,
    count,
    row: table.row,
    time_s: table.numbers("time"),
    line: table.texts("line"),
    easting_m: Float64Array.from(positions, (at) => at.easting_m),
    northing_m: Float64Array.from(positions, (at) => at.northing_m),
    chainage_m: new Float64Array(count).fill(Number.NaN),
    offset_m: new Float64Array(count).fill(Number.NaN),
    height_m: table
      .numbers("height_m")
      .map((height) => (Number.isNaN(height) ? instrument.height_m : height)),
    values,
    setAside,
    corrected: new Uint8Array(count),
  };
}

/** For each channel, n marks of the values that it did not read; all that look so are noted. */
function unreadMarks(table: CsvTable, { channels }: Instrument, log: FaultLog): Uint8Array[] {
  const unread = unreadValues(table, channels);
  for (const { field, text, isSure } of unread) {
    const done = isSure ? " placeReadings sets that aside" : "";
    log.caution(`${table.file}: channel ${field} ${text}${done}`);
  }
  return channels.map(({ field }) => {
    const marks = new Uint8Array(table.count);
    for (const one of unread) {
      if (!one.isSure || one.field !== field) continue;
      for (const row of one.rows) marks[row] = MARKS.notRead;
    }
    return marks;
  });
}

function checkReadings(table: CsvTable, instrument: Instrument, log: FaultLog): void {
  const { file } = table;
  if (table.count === 0) {
    log.add({ code: "no-rows", file, rule: "one reading or more", value: "no rows" });
  }
  if (!["longitude", "latitude", "easting", "northing"].some((field) => table.has(field))) {
    const place = { file, row: 1, field: "longitude" };
    const rule = "a column of the file (longitude, latitude or easting, northing)";
    log.add({ code: "missing-column", ...place, rule, value: "no such column" });
  }
  const fields = instrument.channels.map(({ field }) => field);
  checkInstrument(table, instrument, log);
  checkDeclaredChannels(table, instrument.channels, log);
  checkUnits(table, instrument.channels, log);
  checkMarksForNone(table, fields, log);
  noteEmptyChannels(table, fields, log);
  checkChannelValues(table, fields, log);
  checkFrozenPositions(table, log);
  checkAnyPosition(table, log);
  checkFrozenTimes(table, log);
  checkTimes(table.rows, log);
  noteOddTimes(table, log);
}

/**
 * A step in time of this many usual ones, and of so many seconds, is a gap; a minute is a pause.
 */
const GAP_STEPS = 3;
const GAP_S = 3;
const PAUSE_S = 60;
/** Nobody pauses so long within a walk. */
const LONG_PAUSE_S = 12 * 3600;

/** Cautions on times that are missing, shared, or further apart than usual. */
function noteOddTimes(table: CsvTable, log: FaultLog): void {
  const missing = table.rows.filter((row) => row.isBlank("time")).length;
  const times = [...table.numbers("time")].filter((time) => !Number.isNaN(time));
  const steps = neighbours(times).map(([before, after]) => after - before);
  const shared = steps.filter((step) => step === 0).length;
  const least_s = Math.max(GAP_S, GAP_STEPS * median(steps.filter((step) => step > 0)));
  const gaps = steps.filter((step) => step > least_s && step <= PAUSE_S);
  const note = (text: string) => log.caution(`${table.file}: ${text}`);
  if (missing > 0 && times.length > 0) {
    note(`${countText(missing, "reading")} without a time; placed in time by order of rows`);
  }
  if (shared > 0) note(`${countText(shared, "reading")} with the time of the row before`);
  const pause_s = steps.reduce((most, step) => Math.max(most, step), 0);
  if (pause_s > LONG_PAUSE_S) {
    const hours = (pause_s / 3600).toFixed(0);
    note(`a pause of ${hours} h; walks of two days in one file, or a clock set anew?`);
  }
  if (gaps.length === 0) return;
  const longest = gaps.reduce((most, step) => Math.max(most, step));
  const upTo = `of up to ${longest.toFixed(0)} s`;
  note(`${countText(gaps.length, "gap")} in time ${upTo}, where readings are missing`);
}

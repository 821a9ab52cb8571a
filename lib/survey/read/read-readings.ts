import { median } from "../../numerics/robust.js";
import { quoted } from "../../step/step-error.js";
import { type Frame, locate } from "../bank/locate.js";
import type { FaultLog } from "../check/faults.js";
import { checkInstrument } from "../check/plausible-instrument.js";
import {
  checkFrozenPositions,
  checkMarksForNone,
  sayIdleChannels,
} from "../check/plausible-values.js";
import { checkUnits } from "../check/units.js";
import { utcText } from "../iso-time.js";
import type { Cause, Instrument, Pass } from "../survey.js";
import type { Table } from "./table.js";

export const NO_POSITION: Cause = { kind: "no position", text: "no position in the file" };
export const NO_VALUE: Cause = { kind: "no value", text: "no value in the file" };

export const STOOD_STILL: Cause = {
  kind: "repeated",
  text: "stood still: averaged into one reading of the spot",
};
export const SAME_AGAIN: Cause = {
  kind: "repeated",
  text: "the row before, once more: the same time, position and values",
};

/** Causes of a campaign as it is read; a mark k stands for the k-th. */
export const READING_CAUSES: readonly Cause[] = [NO_POSITION, NO_VALUE, STOOD_STILL, SAME_AGAIN];
export const MARKS = Object.freeze({ noPosition: 1, noValue: 2, stoodStill: 3, sameAgain: 4 });

/** One `readings` resource as a pass, its readings yet to be placed along the bank. Null where the file has no rows or the survey no centreline. */
export function readPass(table: Table, frame: Frame | null, log: FaultLog): Pass | null {
  const instrument = table.resource.instrument as Instrument;
  checkReadings(table, instrument, log);
  if (table.count === 0 || frame === null) return null;
  const positions = locate(table, frame, log);
  const easting_m = Float64Array.from(positions, (at) => at.easting_m);
  const northing_m = Float64Array.from(positions, (at) => at.northing_m);
  const line = table.texts("line");
  const height_m = table
    .numbers("height_m")
    .map((height) => (Number.isNaN(height) ? instrument.height_m : height));
  const values = instrument.channels.map(({ field }) => table.numbers(field));
  return {
    resource: table.resource.name,
    file: table.file,
    instrument,
    count: table.count,
    row: table.row,
    time_s: table.numbers("time"),
    line,
    easting_m,
    northing_m,
    chainage_m: new Float64Array(table.count).fill(Number.NaN),
    offset_m: new Float64Array(table.count).fill(Number.NaN),
    height_m,
    values,
    setAside: values.map(() => new Uint8Array(table.count)),
    corrected: new Uint8Array(table.count),
  };
}

function checkReadings(table: Table, instrument: Instrument, log: FaultLog): void {
  const { file } = table;
  if (table.count === 0) {
    log.add({ code: "no-rows", file, rule: "one reading or more", value: "no rows" });
  }
  if (!["longitude", "latitude", "easting", "northing"].some(table.has)) {
    const place = { file, row: 1, field: "longitude" };
    const rule = "a column of the file (longitude, latitude or easting, northing)";
    log.add({ code: "missing-column", ...place, rule, value: "no such column" });
  }
  const fields = instrument.channels.map(({ field }) => field);
  checkInstrument(table, instrument, log);
  checkUnits(table, instrument.channels, log);
  checkMarksForNone(table, fields, log);
  sayIdleChannels(table, fields, log);
  checkFrozenPositions(table, log);
  checkTimes(table, log);
  sayOddTimes(table, log);
}

/** A step in time of this many usual ones, and of so many seconds, is a gap; a minute is a pause. */
const GAP_STEPS = 3;
const GAP_S = 3;
const PAUSE_S = 60;

/** Cautions on times that are missing, shared, or further apart than usual. */
function sayOddTimes(table: Table, log: FaultLog): void {
  const time_s = table.numbers("time");
  const missing = table.blank("time").reduce((sum, blank) => sum + blank, 0);
  const times = time_s.filter((time) => !Number.isNaN(time));
  const steps = times.slice(1).map((time, i) => time - times[i]!);
  const shared = steps.filter((step) => step === 0).length;
  const least_s = Math.max(GAP_S, GAP_STEPS * median(steps.filter((step) => step > 0)));
  const gaps = steps.filter((step) => step > least_s && step <= PAUSE_S);
  const say = (text: string) => log.caution(`${table.file}: ${text}`);
  if (missing > 0 && times.length > 0) {
    say(`${counted(missing, "reading")} without a time; placed in time by order of rows`);
  }
  if (shared > 0) say(`${counted(shared, "reading")} with the time of the row before`);
  if (gaps.length === 0) return;
  const longest = gaps.reduce((most, step) => Math.max(most, step));
  say(
    `${counted(gaps.length, "gap")} in time of up to ${longest.toFixed(0)} s, where readings are missing`,
  );
}

function counted(n: number, noun: string): string {
  return `${n.toLocaleString("en")} ${noun}${n === 1 ? "" : "s"}`;
}

/** Times must not run backwards; a jump ahead that later rows undo is one fault at its end. */
export function checkTimes(table: Table, log: FaultLog, rows?: readonly number[]): void {
  const time_s = table.numbers("time");
  let previous = Number.NEGATIVE_INFINITY;
  for (const i of rows ?? time_s.keys()) {
    const time = time_s[i]!;
    if (Number.isNaN(time)) continue;
    if (time < previous) {
      const place = { file: table.file, row: table.row[i]!, field: "time" };
      const rule = `no earlier than the row before (${utcText(previous)})`;
      log.add({ code: "time-backwards", ...place, rule, value: quoted(utcText(time)) });
    }
    previous = time;
  }
}

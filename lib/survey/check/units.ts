import { ppmPerUnit } from "../../earth/channel-sensitivities.js";
import { lowInductionQuadrature } from "../../earth/half-space.js";
import { quantile } from "../../numerics/statistics/robust.js";
import type { Channel } from "../instrument.js";
import type { CsvTable } from "../read/table/csv-table.js";
import type { FaultLog } from "./faults.js";

// Ground rarely conducts less than 1 mS/m, and coils over ground rarely read under 1 ppm.
const SMALLEST_MEDIAN = { "mS/m": 0.3, ppm: 0.02 } as const;
// Sea water conducts about 5,000 mS/m, and no secondary field is larger than the primary.
const LARGEST_MEDIAN = { "mS/m": 6000, ppm: 1e6 } as const;

const SMALL_HINTS = {
  "mS/m": "looks like S/m, expected mS/m",
  ppm: "looks like a ratio, expected ppm",
} as const;
const LARGE_HINTS = {
  "mS/m": "more than sea water conducts; looks like µS/m or µS/cm, expected mS/m",
  ppm: "more than the primary field; looks like ppb, expected ppm",
} as const;

/** Logs channels whose unit does not fit their kind, or whose values do not fit their unit. */
export function checkUnits(table: CsvTable, channels: readonly Channel[], log: FaultLog): void {
  for (const channel of channels) {
    const { field, kind, unit } = channel;
    const expected = kind === "conductivity" ? "mS/m" : "ppm";
    const place = { file: table.file, field };
    if (unit !== expected) {
      const rule = `in ${expected}, being ${kind}`;
      log.add({ code: "unit-kind", ...place, rule, value: unit });
    } else if (kind !== "inphase") {
      checkSize(table, channel, log);
    }
  }
  const telling = channels.filter(({ kind }) => kind !== "inphase");
  checkSigns(table, telling, log);
  noteWeakReadings(table, telling, log);
}

/** Of the readings of every channel so many are below 0 where the sign is the other one. */
const NEGATIVE = 0.95;

/**
 * Logs a walk whose quadrature and conductivities are below 0 in all channels: over ground below
 * 1 S/m that no coil pair reads (`coilResponse`).
 */
function checkSigns(table: CsvTable, channels: readonly Channel[], log: FaultLog): void {
  const areNegative = channels.map(({ field }) => {
    const values = table.numbers(field).filter((value) => !Number.isNaN(value));
    return values.filter((value) => value < 0).length >= Math.max(1, NEGATIVE * values.length);
  });
  const [first] = channels;
  if (first === undefined) return;
  if (!areNegative.every(Boolean)) {
    noteNegative(
      table,
      channels.filter((_, c) => areNegative[c]),
      log,
    );
    return;
  }
  const rule = "above 0 over conductive ground, as quadrature and conductivity are here";
  const value = "readings below 0 in every channel";
  const hint = "is the sign the other one, or was the zero set over conductive ground?";
  log.add({ code: "all-negative", file: table.file, field: first.field, rule, value, hint });
}

/** The perpendicular coil may read either way over layered ground. */
function noteNegative(table: CsvTable, channels: readonly Channel[], log: FaultLog): void {
  for (const { field, orientation } of channels) {
    if (orientation === "PRP") continue;
    const what = `channel ${field} is below 0 in nearly all rows, others are not`;
    log.caution(`${table.file}: ${what}; is its sign the other one?`);
  }
}

/** Apparent conductivity that no bank of earth is below, mS/m: 3,000 ohm-m. */
const WEAKEST_MS_PER_M = 0.3;

/** Notes a walk in all of whose channels the ground would be next to an insulator. */
function noteWeakReadings(table: CsvTable, channels: readonly Channel[], log: FaultLog): void {
  const shown = channels.map((channel) => {
    const typical = quantile(table.numbers(channel.field).map(Math.abs), 0.5);
    return (typical * ppmPerUnit(channel)) / lowInductionQuadrature(1e-3, channel);
  });
  const most = shown.reduce((sum, value) => Math.max(sum, value), 0);
  if (!(most > 0 && most < WEAKEST_MS_PER_M)) return;
  const ohm_m = Number((1000 / most).toPrecision(2)).toLocaleString("en");
  log.caution(
    `${table.file}: no channel reads more than ground of ${ohm_m} ohm-m gives; are the values in ` +
      "parts per thousand, or in S/m?",
  );
}

function checkSize(table: CsvTable, { field, unit }: Channel, log: FaultLog): void {
  const typical = quantile(table.numbers(field).map(Math.abs), 0.5);
  const isSmall = typical > 0 && typical < SMALLEST_MEDIAN[unit];
  if (!isSmall && !(typical > LARGEST_MEDIAN[unit])) return;
  const hint = isSmall ? SMALL_HINTS[unit] : LARGE_HINTS[unit];
  const rule = `in ${unit}`;
  const value = `a median size of ${Number(typical.toPrecision(3))}`;
  log.add({ code: "unit-suspicious", file: table.file, field, rule, value, hint });
}

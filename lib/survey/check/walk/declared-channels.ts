import { skinDepth } from "../../../earth/half-space.js";
import type { Channel } from "../../instrument.js";
import { PACKAGE_FILE } from "../../read/package/package-schema.js";
import type { CsvTable } from "../../read/table/csv-table.js";
import type { FaultLog } from "../faults.js";
import { isWalked } from "../plausible-instrument.js";

/** More channels than any instrument that is walked has. */
const MOST_CHANNELS = 100;

/** Logs channels that no appendix can use, and notes those whose names say something else. */
export function checkDeclaredChannels(
  table: CsvTable,
  channels: readonly Channel[],
  log: FaultLog,
): void {
  const at = `resource ${table.resource.name}`;
  if (channels.length > MOST_CHANNELS) {
    const place = { file: PACKAGE_FILE, field: `${at}, channels` };
    const rule = `${MOST_CHANNELS} channels at the most`;
    log.add({ code: "channel-count", ...place, rule, value: String(channels.length) });
    return;
  }
  for (const channel of channels) {
    checkReserved(table, channel, log);
    checkInduction(at, channel, log);
    noteName(table, channel, log);
  }
}

/** Names that every object answers to. */
function checkReserved({ file }: CsvTable, { field }: Channel, log: FaultLog): void {
  if (!(field in Object.prototype)) return;
  const rule = "a name of its own";
  log.add({
    code: "reserved-name",
    file,
    field,
    rule,
    value: "a name that programs give a meaning",
  });
}

/** Ground of a wet bank, S/m: 20 ohm-m. */
const WET_S_PER_M = 0.05;
/** Over this many skin depths nothing of the ground comes back (common practice). */
const MOST_SKIN_DEPTHS = 10;

function checkInduction(at: string, channel: Channel, log: FaultLog): void {
  const { field, frequency_Hz, separation_m } = channel;
  const depths = separation_m / skinDepth(WET_S_PER_M, frequency_Hz);
  if (!(isWalked(channel) && depths > MOST_SKIN_DEPTHS)) return;
  const place = { file: PACKAGE_FILE, field: `${at}, channel ${field}` };
  const rule = `coils at most ${MOST_SKIN_DEPTHS} skin depths of 20 ohm-m apart`;
  const value = `${separation_m} m at ${frequency_Hz} Hz, ${depths.toFixed(0)} of them`;
  log.add({ code: "induction-number", ...place, rule, value });
}

const KINDS = [
  [/(^|[^a-z])(in_?phase|ip|real)([^a-z]|$)/i, "inphase", "in-phase"],
  [/(^|[^a-z])(quadrature|quad|imag)([^a-z]|$)/i, "quadrature", "quadrature"],
] as const;

/** Where a field's name holds an orientation, a kind or a frequency, it is the declared one. */
function noteName({ file }: CsvTable, channel: Channel, log: FaultLog): void {
  const { field, orientation, kind, frequency_Hz } = channel;
  const note = (declared: string) =>
    log.caution(`${file}: channel ${field} is declared ${declared}, and its name says otherwise`);
  const named = /(^|[^a-z])(hcp|vcp|prp)([^a-z]|$)/i.exec(field)?.[2]?.toUpperCase();
  if (named !== undefined && named !== orientation) note(orientation);
  const isOtherKind = KINDS.some(([pattern, means]) => pattern.test(field) && kind !== means);
  if (isOtherKind) note(KINDS.find(([, means]) => means === kind)?.[2] ?? kind);
  const inName = frequencyIn(field);
  if (inName !== null && Math.abs(inName / frequency_Hz - 1) > 0.05) note(`${frequency_Hz} Hz`);
}

/** The frequency in a name such as "q_4k8", "c_30khz" or "i_9000Hz", Hz; null without one. */
function frequencyIn(field: string): number | null {
  const short = /(?:^|_)(\d+)k(\d*)(?:hz)?(?=_|$)/i.exec(field);
  if (short !== null) return 1000 * Number(`${short[1]}.${short[2] || 0}`);
  const long = /(?:^|_)(\d+(?:\.\d+)?)hz(?=_|$)/i.exec(field);
  return long === null ? null : Number(long[1]);
}

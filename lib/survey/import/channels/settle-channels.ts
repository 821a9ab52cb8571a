import type { Channel } from "../../instrument.js";
import type { Column } from "../columns/column.js";
import { headerWords } from "../columns/header-words.js";
import { type Enquiry, numberRule } from "../enquiry.js";
import { keptUnit, type ReadingUnit } from "../values/unit-text.js";
import { type ChannelParts, channelField, channelParts } from "./header-channel.js";

/** A channel with the column that it is read from. */
export interface ChannelPlan {
  readonly column: Column;
  readonly channel: Channel;
  readonly unit: ReadingUnit;
  /** From the column's unit to the channel's. */
  readonly factor: number;
}

const SHARED = ["frequency_Hz", "separation_m", "orientation"] as const;

/** The channels of a file, each told by its name, by what holds for all, or by its own answer. */
export function settleChannels(
  file: string,
  columns: readonly Column[],
  enquiry: Enquiry,
): readonly ChannelPlan[] {
  const told = columns.map((column) => ({ column, parts: toldOf(file, column, enquiry) }));
  const shared = sharedParts(file, told, enquiry);
  const plans = told.flatMap(({ column, parts }) => {
    const whole = asChannel(file, column, { ...shared, ...parts }, enquiry);
    return whole === null ? [] : [whole];
  });
  refuseSame(file, plans, enquiry);
  return plans;
}

interface Told {
  readonly column: Column;
  readonly parts: ChannelParts;
}

/** By the column's name, and by the answer to it. */
function toldOf(file: string, column: Column, enquiry: Enquiry): ChannelParts {
  const named = channelParts(column.all, column.unit);
  const name = `channel ${column.header}`;
  if (!enquiry.has(name, file)) return named;
  const answer = enquiry.settle({
    file,
    name,
    ask: "",
    guess: null,
    why: "",
    broken: brokenChannel,
  });
  return answer === null ? named : { ...named, ...partsOfAnswer(answer) };
}

/** Of an answer such as `quadrature, 9000 Hz, 1.8 m, HCP, ppm`. */
function partsOfAnswer(answer: string): ChannelParts {
  const pieces = answer.split(/[,;]\s*/).map((text) => channelParts(headerWords(text).all, text));
  return Object.assign({}, ...pieces);
}

function brokenChannel(answer: string): string | null {
  const told = Object.keys(partsOfAnswer(answer)).length;
  return told > 0 ? null : "such as quadrature, ppm, 9000 Hz, 1.8 m, HCP";
}

/**
 * Parts that no channel's name tells hold for all, unless channels could then not be told apart.
 */
function sharedParts(file: string, told: readonly Told[], enquiry: Enquiry): ChannelParts {
  const isAsked = told.length > 0 && areDistinct(told);
  const shared: Record<string, string | number> = {};
  for (const part of SHARED) {
    if (told.every(({ parts }) => parts[part] !== undefined)) continue;
    if (!isAsked && !enquiry.has(part, file)) continue;
    const answer = enquiry.settle({ ...matterOf(part, file), file, name: part });
    if (answer !== null) shared[part] = part === "orientation" ? answer : Number(answer);
  }
  return shared as ChannelParts;
}

function areDistinct(told: readonly Told[]): boolean {
  const keys = told.map(({ parts }) => keyOf(parts));
  return new Set(keys).size === keys.length;
}

const keyOf = ({ kind, frequency_Hz, separation_m, orientation }: ChannelParts) =>
  [kind, frequency_Hz, separation_m, orientation].join("/");

function matterOf(part: (typeof SHARED)[number], file: string) {
  const open = { guess: null, why: "the columns' names do not say", isShared: true };
  if (part === "orientation") {
    const ask =
      "How stand the coils: HCP (both lying), VCP (both on edge, in one plane) or PRP (one of each)?";
    const named = /(?<![a-z])(hcp|vcp|prp)(?![a-z])/i.exec(file)?.[1]?.toUpperCase();
    const choices = ["HCP", "VCP", "PRP"];
    if (named === undefined) return { ...open, ask, choices };
    return { ask, choices, guess: named, why: "the file's name", isShared: false };
  }
  const ask =
    part === "frequency_Hz" ? "At which frequency, Hz?" : "How far apart are the coils, m?";
  return { ...open, ask, broken: numberRule(0) };
}

function asChannel(
  file: string,
  column: Column,
  parts: ChannelParts,
  enquiry: Enquiry,
): ChannelPlan | null {
  const { kind, frequency_Hz, separation_m, orientation } = parts;
  const unit = parts.unit ?? null;
  if (kind && frequency_Hz && separation_m && orientation && unit && fits(kind, unit)) {
    const { kept, factor } = keptUnit(unit);
    const about = { kind, frequency_Hz, separation_m, orientation };
    const channel = { field: channelField(about), ...about, unit: kept };
    return { column, channel, unit, factor };
  }
  askFor(file, column, parts, enquiry);
  return null;
}

/** Conductivities are in units of S, fields are shares of the primary field. */
function fits(kind: Channel["kind"], unit: ReadingUnit): boolean {
  return (kind === "conductivity") === unit.includes("S");
}

function askFor(file: string, { header }: Column, parts: ChannelParts, enquiry: Enquiry): void {
  const missing = (["kind", "unit", ...SHARED] as const).filter(
    (part) => parts[part] === undefined,
  );
  // What is missing of all channels is asked once, for all.
  const own = missing.filter((part) => !isAskedForAll(part, enquiry));
  if (own.length === 0 && missing.length > 0) return;
  if (enquiry.has(`channel ${header}`, file)) {
    const rule = own.length === 0 ? "with a unit that fits its kind" : `with ${own.join(", ")} too`;
    enquiry.fault(`answer to "${file}: channel ${header}": must be given ${rule}`);
    return;
  }
  const known = wordsOf(parts);
  const misfit = missing.length === 0 ? "; its unit does not fit its kind" : "";
  enquiry.settle({
    file,
    name: `channel ${header}`,
    ask:
      `What does the column "${header}" read${known === "" ? "" : ` (known: ${known}${misfit})`}: ` +
      "quadrature, in-phase or conductivity; unit; frequency; coil separation; HCP, VCP or PRP? " +
      `("column ${header} = leave out" where it is none)`,
    guess: guessedUnit(parts, own),
    why: `its name does not tell ${own.join(", ") || "a unit that fits"}`,
    broken: brokenChannel,
  });
}

function isAskedForAll(part: string, enquiry: Enquiry): boolean {
  return enquiry.questions.some(({ name }) => name === part);
}

/** Where the unit alone is missing: the usual one of the kind. */
function guessedUnit(parts: ChannelParts, own: readonly string[]): string | null {
  if (own.length !== 1 || own[0] !== "unit" || parts.kind === undefined) return null;
  return parts.kind === "conductivity" ? "mS/m" : "ppm";
}

function wordsOf({ kind, unit, frequency_Hz, separation_m, orientation }: ChannelParts): string {
  const sizes = [frequency_Hz && `${frequency_Hz} Hz`, separation_m && `${separation_m} m`];
  return [kind, unit, ...sizes, orientation].filter(Boolean).join(", ");
}

function refuseSame(file: string, plans: readonly ChannelPlan[], enquiry: Enquiry): void {
  const firsts = new Map<string, string>();
  for (const { column, channel } of plans) {
    const first = firsts.get(channel.field);
    if (first === undefined) firsts.set(channel.field, column.header);
    else {
      enquiry.fault(
        `${file}: columns must be different channels, got "${first}" and "${column.header}" both ` +
          `as ${channel.field} (answer "channel ${column.header}", or leave one out)`,
      );
    }
  }
}

import { neighbours } from "../numerics/arrays.js";
import type { CheckVisit } from "./checks/visits.js";
import type { CampaignFits } from "./models/fit-campaign.js";
import type { ChannelFit } from "./models/fit-channel.js";

/** A time of work, the instrument on all along: first and last time, s. */
export type Spell = readonly [from_s: number, to_s: number];

/** The standard deviation at a time, from the one that the checks tell. */
export type UntoldSd = (time_s: number, seen: number) => number;

/** A silence longer than this ends a spell: the instrument was off, and its zero is another. */
const OFF_S = 7200;
/** A drift goes as far as it is likely to in this time, s. */
const SETTLED_S = 3600;

/** Spells of readings and checks without a long silence between them. */
export function spellsOf(walk_s: Float64Array, fits: CampaignFits): readonly Spell[] {
  const visits = [...fits.values()].flatMap((fit) => fit.visits.map(({ time_s }) => time_s));
  const times_s = [...walk_s, ...visits].sort((a, b) => a - b);
  const [first_s = Number.NaN, last_s = Number.NaN] = [times_s[0], times_s.at(-1)];
  const pauses = neighbours(times_s).filter(([before_s, after_s]) => after_s - before_s > OFF_S);
  const ends_s = [first_s, ...pauses.flat(), last_s];
  return Array.from({ length: ends_s.length / 2 }, (_, k): Spell => {
    return [ends_s[2 * k] ?? Number.NaN, ends_s[2 * k + 1] ?? Number.NaN];
  });
}

/** The spells that hold a visit. */
export function toldSpells(
  visits: readonly CheckVisit[],
  spells: readonly Spell[],
): readonly Spell[] {
  return spells.filter(([from_s, to_s]) =>
    visits.some(({ time_s }) => time_s >= from_s && time_s <= to_s),
  );
}

/**
 * What no check tells stands at its size beforehand: in a spell without a check of the channel, at
 * a time that is not known, and within the hour after or before a check that is the only one.
 */
export function untoldSd(
  { visits, estimate, unseen }: ChannelFit,
  spells: readonly Spell[],
): UntoldSd {
  const isCrossed = estimate.from === "crossings" || estimate.from === "base checks and crossings";
  const told = toldSpells(visits, spells);
  const isTold = (at_s: number) =>
    isCrossed || told.some(([from_s, to_s]) => at_s >= from_s && at_s <= to_s);
  const [only] = visits.length === 1 && !isCrossed ? visits : [];
  return (at_s, seen) => {
    if (!isTold(at_s)) return Math.max(unseen, seen);
    if (only === undefined) return seen;
    return unseen * Math.sqrt(Math.min(1, Math.abs(at_s - only.time_s) / SETTLED_S));
  };
}

import type { CoilGeometry } from "../../earth/coil-quadrature.js";
import type { EmbankmentShape } from "../../earth/embankment/shape.js";
import { presentCount } from "../../numerics/statistics/present.js";
import { median } from "../../numerics/statistics/robust.js";
import { usable } from "../../survey/account/reading-status.js";
import { stationShapes, usualShape } from "../../survey/bank/station-shapes.js";
import type { Campaign, Channel, Pass } from "../../survey/survey.js";

/** One line of one pass, its readings sorted by chainage. */
export interface LineProfile {
  readonly pass: Pass;
  /** n indices of rows of the pass, by chainage. */
  readonly rows: Int32Array;
  /** n chainages, m, never falling. */
  readonly chainage_m: Float64Array;
  /** n distances from the centreline, m. */
  readonly offset_m: Float64Array;
  /** Median height of the coils, m. */
  readonly height_m: number;
  /** Usual distance from the centreline, to the left, m. */
  readonly left_m: number;
  /** Of the bank under most readings; null where it is not known. */
  readonly shape: EmbankmentShape | null;
  /** Coil pairs of the whole campaign: what the bank does to them is worked out together. */
  readonly pairs: readonly CoilGeometry[];
  /** Those of the pass that have a reading in use on the line; all of them where none has. */
  readonly channels: readonly Channel[];
  /** For each channel, n values; NaN where missing or set aside before. */
  readonly values: readonly Float64Array[];
}

/** Every line of every pass of a campaign; rows without a position are left out. */
export function lineProfiles(campaign: Campaign): readonly LineProfile[] {
  const bank = bankUnder(campaign);
  return campaign.passes.flatMap((pass) => {
    const byLine = new Map<string, number[]>();
    for (const [i, line] of pass.line.entries()) {
      if (!Number.isFinite(pass.chainage_m[i]!)) continue;
      const rows = byLine.get(line);
      if (rows === undefined) byLine.set(line, [i]);
      else rows.push(i);
    }
    return [...byLine.values()].map((rows) => lineProfile(pass, rows, bank));
  });
}

/** Lines nearer than this to the campaign's usual distance from the centreline are at it, m. */
const ASIDE_M = 0.5;

interface BankUnder extends Pick<LineProfile, "left_m" | "pairs"> {
  readonly crossSections: Campaign["crossSections"];
}

function bankUnder({ passes, crossSections }: Campaign): BankUnder {
  const pairs = passes.flatMap(({ instrument, height_m }) =>
    instrument.channels.map((channel) => ({ ...channel, height_m: heightOf(height_m) })),
  );
  const left_m = median(passes.flatMap(({ offset_m }) => [...offset_m])) || 0;
  return { pairs, left_m, crossSections };
}

const heightOf = (height_m: Float64Array) => Math.max(0, median(height_m) || 0);

function lineProfile(pass: Pass, members: readonly number[], bank: BankUnder): LineProfile {
  const byChainage = [...members].sort((a, b) => pass.chainage_m[a]! - pass.chainage_m[b]!);
  const rows = Int32Array.from(byChainage);
  const pick = (column: Float64Array) => Float64Array.from(rows, (i) => column[i]!);
  const columns = pass.instrument.channels.map((channel, c) => {
    return { channel, values: pick(usable(pass, c)) };
  });
  const seen = columns.filter(({ values }) => presentCount(values) > 0);
  const used = seen.length > 0 ? seen : columns;
  const [chainage_m, offset_m] = [pick(pass.chainage_m), pick(pass.offset_m)];
  const own_m = median(offset_m) || 0;
  const left_m = Math.abs(own_m - bank.left_m) < ASIDE_M ? bank.left_m : own_m;
  const under = stationShapes(chainage_m, left_m, bank.crossSections);
  return {
    pass,
    rows,
    chainage_m,
    offset_m,
    height_m: heightOf(pick(pass.height_m)),
    left_m,
    shape: under.shapes[usualShape(under)] ?? null,
    pairs: bank.pairs,
    channels: used.map(({ channel }) => channel),
    values: used.map(({ values }) => values),
  };
}

/** Separation of the coils that lie furthest apart, m. */
export function longestSeparation({ channels }: Pick<LineProfile, "channels">): number {
  return Math.max(...channels.map(({ separation_m }) => separation_m));
}

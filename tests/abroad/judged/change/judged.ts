import type { GroundChange } from "../../ground/columns.js";
import { compareCampaigns } from "../../lib.js";
import { overlapOverUnion } from "../score-stretches.js";
import type { Estimated, Interval } from "./estimated.js";

/** One pair of campaigns compared, held against what was planted. */
export interface JudgedPair {
  /** For each planted change the best overlap over union of a found stretch of its direction. */
  readonly overlap: readonly number[];
  /** For each planted change whether the comparison states that it would find one of that size. */
  readonly claimed: readonly boolean[];
  /** Lengths of found stretches that lie on no planted change of their direction, m. */
  readonly false_m: readonly number[];
  /** Where the 90 % interval of each found change's ratio lies about the truth. */
  readonly headlines: readonly Side[];
  /** The same of all its slices that are reliable in the earlier campaign. */
  readonly slices: readonly Side[];
  /** Ratio found over the true one, ln, of each found change. */
  readonly off: readonly number[];
  /** Stretches given to heights or zeros, and those of them where the ground is as likely. */
  readonly offsets: number;
  readonly orGround: number;
}

export type Side = "held" | "too low" | "too high";

/** Found from this overlap over union on. */
export const FOUND = 0.5;

export function judgedPair(
  { campaigns, planted, gaps }: Estimated,
  which: "still" | "changed",
): JudgedPair {
  const [earlier, later] = which === "still" ? campaigns : campaigns.slice(1);
  const pairGaps = which === "still" ? gaps.slice(0, 1) : gaps;
  const changes = which === "still" ? [] : planted.filter((one) => isReadEnough(one, pairGaps));
  const { value } = compareCampaigns(earlier!, later!);
  const alike = (found: { readonly direction: string }, { factor }: GroundChange) =>
    (found.direction === "rose") === factor > 1;
  const best = changes.map((true_) =>
    value.changes
      .filter((found) => alike(found, true_))
      .map((found) => ({ found, true_, overlap: overlapRead(found, true_, pairGaps) }))
      .reduce((a, b) => (b.overlap > (a?.overlap ?? 0) ? b : a), undefined as Match | undefined),
  );
  const hits = best.filter((one) => one !== undefined && one.overlap >= FOUND) as Match[];
  const reliableTo_m = Math.max(
    0,
    ...earlier!.slices.filter(({ reliable }) => reliable).map(({ base_m }) => base_m),
  );
  const elsewhere = value.changes.filter(
    (found) => !changes.some((true_) => alike(found, true_) && overlapOverUnion(found, true_) > 0),
  );
  return {
    overlap: best.map((one) => one?.overlap ?? 0),
    claimed: changes.map((true_) => isClaimed(value.detectable ?? [], true_)),
    false_m: elsewhere.map(({ from_m, to_m }) => to_m - from_m),
    headlines: hits.map(({ found, true_ }) =>
      sideOf(found.ratioInterval!, headTruth(found, true_)),
    ),
    slices: hits.flatMap(({ found, true_ }) =>
      (found.bySlice ?? [])
        .filter(({ base_m }) => base_m <= reliableTo_m + 1e-6)
        .map((slice) => sideOf(slice.interval, truthIn(slice, true_))),
    ),
    off: hits.map(({ found, true_ }) => Math.log(found.ratio / headTruth(found, true_))),
    offsets: value.offsets?.length ?? 0,
    orGround: (value.offsets ?? []).filter(({ orGround }) => orGround).length,
  };
}

/** Of a change so much must have been read by both campaigns to be asked for, m. */
const LEAST_READ_M = 20;

/** The stretch without what was not read, in pieces from left to right. */
function read({ from_m, to_m }: Interval, gaps: readonly Interval[]): readonly Interval[] {
  let pieces: readonly Interval[] = [{ from_m, to_m }];
  for (const gap of gaps) {
    pieces = pieces
      .flatMap((one) => [
        { from_m: one.from_m, to_m: Math.min(one.to_m, gap.from_m) },
        { from_m: Math.max(one.from_m, gap.to_m), to_m: one.to_m },
      ])
      .filter((one) => one.to_m > one.from_m);
  }
  return pieces;
}

const lengthOf = (pieces: readonly Interval[]): number =>
  pieces.reduce((sum, one) => sum + one.to_m - one.from_m, 0);

const isReadEnough = (change: Interval, gaps: readonly Interval[]): boolean =>
  lengthOf(read(change, gaps)) >= LEAST_READ_M;

/** Overlap over union, of what both campaigns read, or with one piece of a change that a gap cuts. */
function overlapRead(found: Interval, true_: Interval, gaps: readonly Interval[]): number {
  const pieces = read(true_, gaps);
  const ofPieces = pieces.map((one) => overlapOverUnion(found, one));
  const from_m = Math.max(found.from_m, true_.from_m);
  const overlap = lengthOf(read({ from_m, to_m: Math.min(found.to_m, true_.to_m) }, gaps));
  const union = lengthOf(read(found, gaps)) + lengthOf(pieces) - overlap;
  return Math.max(...ofPieces, union > 0 ? overlap / union : 0);
}

type Found = ReturnType<typeof compareCampaigns>["value"]["changes"][number];

type Detectable = NonNullable<ReturnType<typeof compareCampaigns>["value"]["detectable"]>[number];

interface Match {
  readonly found: Found;
  readonly true_: GroundChange;
  readonly overlap: number;
}

/** True where a slice that the change fills whole is stated to show so much over such a length. */
function isClaimed(
  detectable: readonly Detectable[],
  { from_m, to_m, top_m, base_m, factor }: GroundChange,
): boolean {
  return detectable.some(
    ({ fell, rose, length_m, ...slice }) =>
      to_m - from_m >= length_m - 1 &&
      slice.top_m >= top_m - 0.1 &&
      slice.base_m <= base_m + 0.1 &&
      (factor < 1 ? fell !== null && factor <= fell : rose !== null && factor >= rose),
  );
}

function headTruth(found: Found, true_: GroundChange): number {
  const main = found.bySlice!.find(({ ratio }) => ratio === found.ratio)!;
  return truthIn(main, true_);
}

/** The factor of a slice of which the change fills a part. */
function truthIn(
  slice: { readonly top_m: number; readonly base_m: number },
  { top_m, base_m, factor }: GroundChange,
): number {
  const shared = Math.min(base_m, slice.base_m) - Math.max(top_m, slice.top_m);
  return factor ** (Math.max(0, shared) / (slice.base_m - slice.top_m));
}

function sideOf(interval: readonly [number, number], truth: number): Side {
  if (interval[1] < truth) return "too low";
  return interval[0] > truth ? "too high" : "held";
}

import { rangeFault } from "../../depth/check-depth-slices.js";
import { cohenKappa } from "../../numerics/cohen-kappa.js";
import { type Fault, quoted, StepError } from "../../step/step-error.js";
import { unknownOptions } from "../../step/unknown-options.js";

/** A stretch with its class: a block, or a row of a second interpreter's table. */
export interface ClassedStretch {
  readonly from_m: number;
  readonly to_m: number;
  readonly class: string;
}

export interface CompareSegmentationsOptions {
  /** Two boundaries agree where they are at most so far apart, m, ≥ 0. Default 12. */
  readonly within_m: number;
  /**
   * Metres of line that are worth one independent judgement, m, > 0: the interval of kappa rests on
   * length / this. "block" takes the mean length of a block of the cut with more of them. Default
   * "block".
   */
  readonly independent_m: number | "block";
}

export const compareSegmentationsDefaults: Readonly<CompareSegmentationsOptions> = Object.freeze({
  within_m: 12,
  independent_m: "block",
});

export interface SegmentationAgreement {
  readonly within_m: number;
  /** Boundaries of the one and of the other, in the stretch that both cover. */
  readonly oneBoundaries: number;
  readonly otherBoundaries: number;
  /** Pairs within the distance, each boundary in one pair at most. */
  readonly matched: readonly { readonly one_m: number; readonly other_m: number }[];
  readonly onlyOne_m: readonly number[];
  readonly onlyOther_m: readonly number[];
  /** Share of the other's boundaries that the one has too; 1 where the other has none. */
  readonly recall: number;
  /** Share of the one's boundaries that the other has too; 1 where the one has none. */
  readonly precision: number;
  /** Harmonic mean of the two. */
  readonly f: number;
  /** Length that both have given a class, m. */
  readonly compared_m: number;
  /** Share of that length with the same class, %. */
  readonly sameClass_pct: number;
  /** Cohen's kappa by metre; NaN where both have one class only. */
  readonly kappa: number;
  /** 95 % interval of kappa. */
  readonly kappaInterval: readonly [number, number];
}

/**
 * How far two cuts of a line agree: in their boundaries, and metre by metre in their classes.
 *
 * Boundaries are paired so that the most pairs lie within `within_m`, and among those with the
 * least total distance. Precision is the paired share of the one's boundaries, recall that of the
 * other's, F their harmonic mean. Classes are compared by name over the length that both cover;
 * kappa is the agreement beyond what the classes' shares would give by chance. Its interval is the
 * large-sample one with length / `independent_m` judgements, since metres of one block are not
 * judged one by one.
 *
 * @param one stretches by chainage, m, without overlaps; gaps between them are left out.
 * @param other the same, of the second interpreter or of another choice of options.
 *
 * A boundary is an end that two stretches share, or where a gap stands between them its middle; the
 * ends of the line are none. Swapping the two swaps precision and recall, and nothing else.
 *
 * Throws a StepError with every fault of the stretches and options.
 *
 * Source: Cohen 1960; Fleiss, Cohen & Everitt 1969 (kappa); van Rijsbergen 1979, Information
 * Retrieval, chapter 7 (F).
 *
 * @example
 * const block = (from_m: number, to_m: number, name: string) => ({ from_m, to_m, class: name });
 * compareSegmentations([block(0, 50, "A"), block(50, 100, "B")], [block(0, 100, "A")]).f // 0
 */
export function compareSegmentations(
  one: readonly ClassedStretch[],
  other: readonly ClassedStretch[],
  options: Partial<CompareSegmentationsOptions> = {},
): SegmentationAgreement {
  const used = { ...compareSegmentationsDefaults, ...options };
  const faults = [
    ...stretchFaults(one, "one"),
    ...stretchFaults(other, "other"),
    ...rangeFault("within_m", used.within_m, { from: 0 }),
    ...(used.independent_m === "block"
      ? []
      : rangeFault("independent_m", used.independent_m, { above: 0 })),
    ...unknownOptions(used, compareSegmentationsDefaults),
  ];
  if (faults.length > 0) throw new StepError("compareSegmentations", faults);
  return { ...boundaryAgreement(one, other, used.within_m), ...classAgreement(one, other, used) };
}

function boundaryAgreement(
  one: readonly ClassedStretch[],
  other: readonly ClassedStretch[],
  within_m: number,
) {
  const from = Math.max(one[0]!.from_m, other[0]!.from_m);
  const to = Math.min(one.at(-1)!.to_m, other.at(-1)!.to_m);
  const inside = (x: number) => x > from && x < to;
  const mine = boundariesOf(one).filter(inside);
  const theirs = boundariesOf(other).filter(inside);
  const matched = pairs(mine, theirs, within_m);
  const precision = mine.length === 0 ? 1 : matched.length / mine.length;
  const recall = theirs.length === 0 ? 1 : matched.length / theirs.length;
  return {
    within_m,
    oneBoundaries: mine.length,
    otherBoundaries: theirs.length,
    matched,
    onlyOne_m: mine.filter((x) => !matched.some((pair) => pair.one_m === x)),
    onlyOther_m: theirs.filter((x) => !matched.some((pair) => pair.other_m === x)),
    precision,
    recall,
    f: precision + recall > 0 ? (2 * precision * recall) / (precision + recall) : 0,
  };
}

function boundariesOf(stretches: readonly ClassedStretch[]): number[] {
  return stretches.slice(1).map((next, i) => (stretches[i]!.to_m + next.from_m) / 2);
}

/** The most pairs within the distance, and of these the nearest: by a table over both rows. */
function pairs(one: readonly number[], other: readonly number[], within: number) {
  const width = other.length + 1;
  const score = new Float64Array((one.length + 1) * width);
  // A pair is worth 1 less a part of its distance that all pairs together cannot make up for.
  const share = 1 / ((one.length + other.length + 1) * (within + 1));
  const worth = (i: number, j: number) => {
    const off = Math.abs(one[i]! - other[j]!);
    return off <= within ? 1 - share * off : Number.NEGATIVE_INFINITY;
  };
  for (let i = 1; i <= one.length; i++) {
    for (let j = 1; j <= other.length; j++) {
      const skipped = Math.max(score[(i - 1) * width + j]!, score[i * width + j - 1]!);
      const paired = score[(i - 1) * width + j - 1]! + worth(i - 1, j - 1);
      score[i * width + j] = Math.max(skipped, paired);
    }
  }
  const matched: { one_m: number; other_m: number }[] = [];
  for (let i = one.length, j = other.length; i > 0 && j > 0; ) {
    if (score[i * width + j] === score[(i - 1) * width + j]) i--;
    else if (score[i * width + j] === score[i * width + j - 1]) j--;
    else matched.unshift({ one_m: one[--i]!, other_m: other[--j]! });
  }
  return matched;
}

function classAgreement(
  one: readonly ClassedStretch[],
  other: readonly ClassedStretch[],
  { independent_m }: CompareSegmentationsOptions,
) {
  const names = [...new Set([...one, ...other].map((stretch) => stretch.class))].sort();
  const lengths = names.map(() => names.map(() => 0));
  let compared_m = 0;
  for (const a of one) {
    for (const b of other) {
      const shared = Math.min(a.to_m, b.to_m) - Math.max(a.from_m, b.from_m);
      if (!(shared > 0)) continue;
      lengths[names.indexOf(a.class)]![names.indexOf(b.class)]! += shared;
      compared_m += shared;
    }
  }
  const most = Math.max(one.length, other.length);
  const each_m = independent_m === "block" ? Math.max(1, compared_m / most) : independent_m;
  const counts = lengths.map((row) => row.map((length) => length / each_m));
  const { kappa, standardError, agreement } = cohenKappa(counts);
  const half = 1.959963984540054 * standardError;
  return {
    compared_m,
    sameClass_pct: 100 * agreement,
    kappa,
    kappaInterval: [Math.max(-1, kappa - half), Math.min(1, kappa + half)] as const,
  };
}

function stretchFaults(stretches: readonly ClassedStretch[], path: string): Fault[] {
  if (stretches.length === 0) {
    return [{ code: "empty", path, expected: "at least one stretch", received: "none" }];
  }
  return stretches.flatMap(({ from_m, to_m, class: name }, i) => {
    const faults: Fault[] = [];
    if (!(Number.isFinite(from_m) && to_m > from_m && to_m < Number.POSITIVE_INFINITY)) {
      const received = `from ${quoted(from_m)} to ${quoted(to_m)}`;
      faults.push({
        code: "stretch",
        path: `${path}[${i}]`,
        expected: "to_m above from_m",
        received,
      });
    }
    if (i > 0 && !(from_m >= stretches[i - 1]!.to_m - 1e-9)) {
      const expected = `at or after the end of the stretch before (${stretches[i - 1]!.to_m} m)`;
      faults.push({
        code: "overlap",
        path: `${path}[${i}].from_m`,
        expected,
        received: quoted(from_m),
      });
    }
    if (typeof name !== "string") {
      faults.push({
        code: "class",
        path: `${path}[${i}].class`,
        expected: "a name",
        received: quoted(name),
      });
    }
    return faults;
  });
}

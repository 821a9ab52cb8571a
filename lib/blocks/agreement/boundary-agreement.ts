import type { ClassedStretch } from "./agreement.js";

/** Precision, recall and F of the boundaries in the stretch that both segmentations cover. */
export function boundaryAgreement(
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

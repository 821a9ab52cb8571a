import { firstOf, itemAt, lastOf, neighbours } from "../../numerics/arrays.js";
import type { ClassedStretch } from "./agreement.js";

/** Precision, recall and F of the boundaries in the stretch that both segmentations cover. */
export function boundaryAgreement(
  one: readonly ClassedStretch[],
  other: readonly ClassedStretch[],
  within_m: number,
) {
  const from = Math.max(firstOf(one).from_m, firstOf(other).from_m);
  const to = Math.min(lastOf(one).to_m, lastOf(other).to_m);
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

const boundariesOf = (stretches: readonly ClassedStretch[]) =>
  neighbours(stretches).map(([before, next]) => (before.to_m + next.from_m) / 2);

/** The most pairs within the distance, and of these the nearest: by a table over both rows. */
function pairs(one: readonly number[], other: readonly number[], within: number) {
  const score = [other.map(() => 0).concat(0)];
  // A pair scores 1 less a part of its distance, so small that no pair is lost for all of them.
  const share = 1 / ((one.length + other.length + 1) * (within + 1));
  for (const a of one) {
    const above = lastOf(score);
    const row = [0];
    for (const [j, b] of other.entries()) {
      const off = Math.abs(a - b);
      const gain = off <= within ? 1 - share * off : Number.NEGATIVE_INFINITY;
      row.push(Math.max(itemAt(above, j + 1), lastOf(row), itemAt(above, j) + gain));
    }
    score.push(row);
  }
  return tracedPairs(score, one, other);
}

function tracedPairs(
  score: readonly (readonly number[])[],
  one: readonly number[],
  other: readonly number[],
) {
  const matched: { one_m: number; other_m: number }[] = [];
  const at = (i: number, j: number) => itemAt(itemAt(score, i), j);
  for (let i = one.length, j = other.length; i > 0 && j > 0; ) {
    if (at(i, j) === at(i - 1, j)) i--;
    else if (at(i, j) === at(i, j - 1)) j--;
    else matched.unshift({ one_m: itemAt(one, --i), other_m: itemAt(other, --j) });
  }
  return matched;
}

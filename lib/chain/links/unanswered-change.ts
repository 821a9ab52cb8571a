import type { Changes } from "../../campaigns/pair/changes.js";
import { placeText } from "../../campaigns/ranges.js";
import { valueAt } from "../../numerics/arrays.js";
import { listText } from "../../step/list-text.js";

/** What two campaigns cannot tell of a change, which the owner has to know first. */
export function unansweredChange(value: Changes): readonly string[] {
  const between = `${value.earlier} to ${value.later}`;
  return [
    ...unknownText(value),
    ...undecidedText(value),
    ...unexplainedText(value),
    ...weakText(value),
  ].map((text) => `${between}: ${text}`);
}

/** Where more of the line than this cannot be compared, it is said first, %. */
const MUCH_PCT = 50;

/** Share of the line of both campaigns on which they cannot be compared, %. */
export function unknownShare_pct({ unknown, chainage_m }: Changes): number {
  const ends = [
    valueAt(chainage_m, 0),
    valueAt(chainage_m, chainage_m.length - 1),
    ...unknown.flatMap(({ from_m, to_m }) => [from_m, to_m]),
  ];
  const length_m = Math.max(...ends) - Math.min(...ends);
  const unknown_m = unknown.reduce((sum, { from_m, to_m }) => sum + to_m - from_m, 0);
  return length_m > 0 ? (100 * unknown_m) / length_m : 100;
}

function unknownText(value: Changes): readonly string[] {
  const share_pct = unknownShare_pct(value);
  if (share_pct <= MUCH_PCT) return [];
  return [
    `change is unknown on ${share_pct.toFixed(0)} % of the line, which is not the same as none.`,
  ];
}

function undecidedText({ offsets = [] }: Changes): readonly string[] {
  const either = offsets.filter(({ orGround }) => orGround);
  if (either.length === 0) return [];
  return [
    `at ${listText(either.map(placeText))} the ground changed or the coils were carried or set ` +
      "otherwise: the channels do not tell which.",
  ];
}

function unexplainedText({ unexplained = [] }: Changes): readonly string[] {
  if (unexplained.length === 0) return [];
  return [
    `at ${listText(unexplained.map(placeText))} the campaigns differ as neither ground nor coils ` +
      "would make them.",
  ];
}

/** A fall to less than this at every depth, unfound, leaves a comparison without an answer. */
const WEAK = 0.7;

function weakText({ detectable = [] }: Changes): readonly string[] {
  const [first] = detectable;
  const best = Math.max(...detectable.map(({ fell }) => fell ?? 0));
  if (first === undefined || best >= WEAK) return [];
  const size = best > 0 ? `to ${best.toFixed(2)} times` : "to a tenth";
  return [
    `over ${first.length_m.toFixed(0)} m the resistivity of one depth slice could fall ${size} and ` +
      "not be found: where no change is drawn there may still be one.",
  ];
}

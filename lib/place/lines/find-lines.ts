import type { Campaign, WalkedLine } from "../../survey/survey.js";
import { type NamedWalk, namedWalks } from "./leg-offsets.js";

/** A walked line and how much of it there is. */
export interface WalkedLineSize extends WalkedLine {
  /** Names in the readings; "" where the field is blank. */
  readonly names: readonly string[];
  /** Readings that have a place. */
  readonly readings: number;
}

/** A line of the survey: walks of any campaign that lie together across the bank. */
export interface FoundLine extends WalkedLineSize {
  readonly walks: readonly NamedWalk[];
}

/** Walks whose middles lie within this of each other across the bank are on one line, m. */
export const ONE_LINE_M = 3;

/**
 * The lines of placed campaigns, the main one first: names whose readings lie within 3 m of each
 * other across the bank, such as two walks over the crest with the coils turned, are of one line.
 */
export function findLines(campaigns: readonly Campaign[]): readonly FoundLine[] {
  const walks = campaigns.flatMap(namedWalks);
  const placed = walks.filter(({ readings }) => readings > 0);
  const groups: NamedWalk[][] = [];
  for (const walk of placed.toSorted((one, other) => one.offset_m - other.offset_m)) {
    const last = groups.at(-1)?.at(-1);
    if (last === undefined || walk.offset_m - last.offset_m > ONE_LINE_M) groups.push([walk]);
    else groups.at(-1)?.push(walk);
  }
  if (groups.length < 2) return [];
  const lines = mainFirst(groups.map(lineOf));
  const named = lines.map((line) => ({ ...line, line: ownName(line, lines) }));
  return withUnplaced(named, walks);
}

function lineOf(walks: readonly NamedWalk[]): FoundLine {
  const names = [...new Set(inOrder(walks).map(({ name }) => name))];
  const readings = walks.reduce((sum, walk) => sum + walk.readings, 0);
  const offset_m = walks.reduce((sum, walk) => sum + walk.offset_m * walk.readings, 0) / readings;
  const line = names.map((name) => name || "unnamed").join(" and ");
  return { line, names, offset_m, readings, walks };
}

/** As the files have them. */
const inOrder = (walks: readonly NamedWalk[]) =>
  walks.toSorted((one, other) => {
    const [a, b] = [one.rows[0], other.rows[0]];
    const passes = one.campaign - other.campaign || (a?.pass ?? 0) - (b?.pass ?? 0);
    return passes || (a?.first ?? 0) - (b?.first ?? 0);
  });

/** First the line nearest to the centreline of those walked at least half as much as any. */
function mainFirst(lines: readonly FoundLine[]): readonly FoundLine[] {
  const most = Math.max(...lines.map(({ readings }) => readings));
  const rank = ({ readings, offset_m }: FoundLine) =>
    2 * readings >= most ? Math.abs(offset_m) : Number.POSITIVE_INFINITY;
  return lines.toSorted((one, other) => {
    const [a, b] = [rank(one), rank(other)];
    return a === b ? other.readings - one.readings : a - b;
  });
}

/** The line's names, told apart by its distance where another line has the same. */
function ownName({ line, offset_m }: FoundLine, lines: readonly FoundLine[]): string {
  const isShared = lines.filter((one) => one.line === line).length > 1;
  return isShared ? `${line}, ${sideText(offset_m)}` : line;
}

/** "14 m to the right" of the centreline. */
export function sideText(offset_m: number): string {
  const side = offset_m > 0 ? "left" : "right";
  const aside = Math.abs(offset_m).toFixed(0);
  return aside === "0" ? "on the centreline" : `${aside} m to the ${side}`;
}

/** Walks without any place go with the line of their name, else with the main one. */
function withUnplaced(
  lines: readonly FoundLine[],
  walks: readonly NamedWalk[],
): readonly FoundLine[] {
  const unplaced = walks.filter(({ readings }) => readings === 0);
  const homeOf = ({ name }: NamedWalk) =>
    lines.find(({ names }) => names.includes(name)) ?? lines[0];
  return lines.map((line) => ({
    ...line,
    walks: inOrder([...line.walks, ...unplaced.filter((walk) => homeOf(walk) === line)]),
  }));
}

import { itemAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import type { Campaign } from "../../survey/survey.js";

/** A line of a campaign as it was walked along the bank. */
export interface WalkedLine {
  /** Names in the readings' `line` field that lie on it; "" where the field is blank. */
  readonly names: readonly string[];
  /** Readings that have a place. */
  readonly readings: number;
  /** Median distance from the centreline, m, positive to the left. */
  readonly offset_m: number;
}

/** Walks whose middles lie within this of each other across the bank are on one line, m. */
const ONE_LINE_M = 3;

/**
 * The lines of a campaign, the main one first: names whose readings lie within 3 m of each other
 * across the bank, such as two passes over the crest with the coils turned, are of one line.
 */
export function walkedLines(campaign: Campaign): readonly WalkedLine[] {
  const named = [...offsetsByName(campaign)]
    .map(([name, offsets]) => ({ name, readings: offsets.length, offset_m: middle(offsets) }))
    .sort((one, other) => one.offset_m - other.offset_m);
  const lines: WalkedLine[] = [];
  for (const { name, readings, offset_m } of named) {
    const last = lines.at(-1);
    if (last === undefined || offset_m - last.offset_m > ONE_LINE_M) {
      lines.push({ names: [name], readings, offset_m });
    } else {
      const names = [...last.names, name];
      lines[lines.length - 1] = { ...last, names, readings: last.readings + readings };
    }
  }
  return mainFirst(lines);
}

/** First the line nearest to the centreline of those walked at least half as much as any. */
function mainFirst(lines: readonly WalkedLine[]): readonly WalkedLine[] {
  const most = Math.max(...lines.map(({ readings }) => readings));
  const rank = ({ readings, offset_m }: WalkedLine) =>
    2 * readings >= most ? Math.abs(offset_m) : Number.POSITIVE_INFINITY;
  return lines.toSorted((one, other) => {
    const [a, b] = [rank(one), rank(other)];
    return a === b ? other.readings - one.readings : a - b;
  });
}

/** Offsets without a place across the bank count as 0: the line is where the chainage runs. */
function middle(offsets: readonly number[]): number {
  const known = offsets.filter((offset) => !Number.isNaN(offset));
  return known.length > 0 ? median(Float64Array.from(known)) : 0;
}

function offsetsByName({ passes }: Campaign): ReadonlyMap<string, readonly number[]> {
  const offsets = new Map<string, number[]>();
  for (const { chainage_m, offset_m, line } of passes) {
    for (const [row, x] of chainage_m.entries()) {
      if (Number.isNaN(x)) continue;
      const name = line[row] ?? "";
      const own = offsets.get(name) ?? [];
      if (own.length === 0) offsets.set(name, own);
      own.push(itemAt(offset_m, row));
    }
  }
  return offsets;
}

/** The line of that name, or the main one; undefined where the campaign has none such. */
export function lineNamed(campaign: Campaign, name: string | null): WalkedLine | undefined {
  const lines = walkedLines(campaign);
  return name === null ? lines[0] : lines.find(({ names }) => names.includes(name));
}

/** The campaign with the readings of one of its lines: those of others lose their chainage. */
export function onLine(campaign: Campaign, name: string | null): Campaign {
  const chosen = lineNamed(campaign, name);
  if (chosen === undefined || walkedLines(campaign).length === 1) return campaign;
  const passes = campaign.passes
    .map((pass) => ({
      ...pass,
      chainage_m: pass.chainage_m.map((x, row) =>
        chosen.names.includes(pass.line[row] ?? "") ? x : Number.NaN,
      ),
    }))
    .filter(({ chainage_m }) => chainage_m.some((x) => !Number.isNaN(x)));
  return { ...campaign, passes };
}

/** "crest (2,400 readings), toe (2,380 readings, 14 m to the right)". */
export function linesText(lines: readonly WalkedLine[]): string {
  const [first] = lines;
  return lines
    .map(({ names, readings, offset_m }) => {
      const aside_m = offset_m - (first?.offset_m ?? 0);
      const side = aside_m > 0 ? "left" : "right";
      const where = aside_m === 0 ? "" : `, ${Math.abs(aside_m).toFixed(0)} m to the ${side}`;
      const name = names.map((one) => one || "without a name").join(" and ");
      return `${name} (${readings.toLocaleString("en")} readings${where})`;
    })
    .join(", ");
}

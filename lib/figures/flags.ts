import { shortened, textWidth } from "./text.js";

/** A text that flies from a vertical leader, its row counted upward from 0. */
export interface Flag {
  /** Where the leader stands, in the units of the axis. */
  readonly at: number;
  readonly text: string;
  readonly row: number;
}

export interface FlagLayout {
  /** Axis units per px. */
  readonly unitsPer_px: number;
  readonly size_px: number;
  /** Longest text shown, letters. */
  readonly letters: number;
  /** Gap between neighbouring texts, px. */
  readonly gap_px: number;
}

/**
 * Rows for flags whose text runs to the right of its leader, so that no text meets another text or
 * another leader: each stands one row above every flag whose leader its own text passes over.
 * Neighbours with the same text that would collide become one flag with a count.
 */
export function placeFlags(
  items: readonly { readonly at: number; readonly text: string }[],
  layout: FlagLayout,
): readonly Flag[] {
  const merged = mergeEqual(items, layout);
  const placed: Flag[] = [];
  for (const item of [...merged].reverse()) {
    const end = item.at + reach(item.text, layout);
    const passed = placed.filter((flag) => flag.at <= end);
    const row = passed.reduce((highest, flag) => Math.max(highest, flag.row + 1), 0);
    placed.push({ at: item.at, text: item.text, row });
  }
  return placed.reverse();
}

function reach(text: string, layout: FlagLayout): number {
  return (textWidth(text, layout.size_px) + layout.gap_px) * layout.unitsPer_px;
}

function mergeEqual(
  items: readonly { readonly at: number; readonly text: string }[],
  layout: FlagLayout,
): readonly { readonly at: number; readonly text: string }[] {
  const groups: { at: number; last: number; text: string; count: number }[] = [];
  for (const { at, text: whole } of items.filter(named).sort((a, b) => a.at - b.at)) {
    const text = shortened(whole, layout.letters);
    const before = groups[groups.length - 1];
    if (before?.text === text && at - before.last <= reach(text, layout)) {
      before.count += 1;
      before.last = at;
    } else {
      groups.push({ at, last: at, text, count: 1 });
    }
  }
  return groups.map(({ at, text, count }) => ({
    at,
    text: count > 1 ? `${text} ×${count}` : text,
  }));
}

function named(item: { readonly at: number; readonly text: string }): boolean {
  return item.text.trim() !== "" && Number.isFinite(item.at);
}

import { shortened, textWidth } from "./text.js";

/** A text at a place along an axis, in the axis's units. */
interface Note {
  readonly at: number;
  readonly text: string;
}

/** A text that flies from a vertical leader, its row counted upward from 0. */
export interface Flag extends Note {
  readonly row: number;
}

interface FlagLayout {
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
export function placeFlags(notes: readonly Note[], layout: FlagLayout): readonly Flag[] {
  const placed: Flag[] = [];
  for (const { at, text } of mergeEqual(notes, layout).reverse()) {
    const end = at + reach(text, layout);
    const passed = placed.filter((flag) => flag.at <= end);
    const row = passed.reduce((highest, flag) => Math.max(highest, flag.row + 1), 0);
    placed.push({ at, text, row });
  }
  return placed.reverse();
}

function reach(text: string, layout: FlagLayout): number {
  return (textWidth(text, layout.size_px) + layout.gap_px) * layout.unitsPer_px;
}

function mergeEqual(notes: readonly Note[], layout: FlagLayout): Note[] {
  const groups: { at: number; last: number; text: string; count: number }[] = [];
  for (const { at, text: whole } of notes.filter(isDrawn).sort((a, b) => a.at - b.at)) {
    const text = shortened(whole, layout.letters);
    const before = groups.at(-1);
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

function isDrawn({ at, text }: Note): boolean {
  return text.trim() !== "" && Number.isFinite(at);
}

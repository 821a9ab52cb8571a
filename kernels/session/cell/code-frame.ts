/** A place in a text; lines and columns count from 0. */
export interface Place {
  readonly line: number;
  readonly column: number;
  /** Characters to underline on that line; 1 where not given. */
  readonly length?: number;
  /** Written behind the underline. */
  readonly note?: string;
}

/** The line of the place with one line before and after it, numbered from 1, and an underline. */
export function codeFrame(source: string, place: Place): string {
  const lines = source.split("\n");
  const from = Math.max(0, place.line - 1);
  const to = Math.min(lines.length - 1, place.line + 1);
  const width = String(to + 1).length;
  const shown: string[] = [];
  for (let at = from; at <= to; at++) {
    const mark = at === place.line ? ">" : " ";
    shown.push(`${mark} ${String(at + 1).padStart(width)} | ${lines[at] ?? ""}`.trimEnd());
    if (at === place.line) shown.push(underline(lines[at] ?? "", place, width));
  }
  return shown.join("\n");
}

function underline(line: string, place: Place, width: number): string {
  const room = Math.max(1, line.length - place.column);
  const marks = "^".repeat(Math.max(1, Math.min(place.length ?? 1, room)));
  const note = place.note === undefined ? "" : ` ${place.note}`;
  return `  ${" ".repeat(width)} | ${" ".repeat(place.column)}${marks}${note}`;
}

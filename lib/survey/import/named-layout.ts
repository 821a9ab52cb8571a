import { SEPARATORS, type Separator, splitCells, withoutBlankEnd } from "./layout/cells.js";
import { isComment, type Layout } from "./layout/recognise-layout.js";
import { isUnitsLine } from "./layout/units-line.js";
import { namedRole } from "./settle-role.js";
import type { RawLine } from "./text/raw-lines.js";

/** A header stands among the first rows. */
const LOOKED_AT = 20;

/** The layout of a table whose header names the columns of a role, be its cells all words. */
export function namedLayout(lines: readonly RawLine[]): Layout | null {
  const filled = lines.filter(({ text }) => text.trim() !== "" && !isComment(text));
  for (const [at, { row, text }] of filled.slice(0, LOOKED_AT).entries()) {
    for (const separator of SEPARATORS) {
      const header = withoutBlankEnd(splitCells(text, separator));
      const layout = layoutUnder(header, { separator, row, below: filled.slice(at + 1) });
      if (header.length > 1 && namedRole(layout) !== null) return layout;
    }
  }
  return null;
}

function layoutUnder(
  header: readonly string[],
  { separator, row, below }: { separator: Separator; row: number; below: readonly RawLine[] },
): Layout {
  const [first] = below;
  const cells = first === undefined ? [] : splitCells(first.text, separator);
  const units = isUnitsLine(cells) ? cells : [];
  const start = units.length > 0 ? below[1] : first;
  return {
    separator,
    headerRow: row,
    unitsRow: units.length > 0 ? (first?.row ?? null) : null,
    firstRow: start?.row ?? row + 1,
    header,
    units,
    count: header.length,
  };
}

/** A place in a script or in a cell; both count from 0. */
export interface Place {
  readonly line: number;
  readonly column: number;
}

interface Segment {
  readonly script: Place;
  readonly cell: Place;
}

/** Which place of a cell each place of its script comes from, by the script's source map. */
export class ScriptLines {
  readonly #segments: readonly Segment[];

  constructor(map: string) {
    const { mappings } = JSON.parse(map) as { readonly mappings: string };
    // The cell is the map's line 2 on: the type services put one line before it.
    this.#segments = segmentsOf(mappings)
      .map(({ script, cell }) => ({ script, cell: { ...cell, line: cell.line - 1 } }))
      .filter(({ cell }) => cell.line >= 0);
  }

  /** The cell's place that a script's place comes from; null before the first. */
  inCell({ line, column }: Place): Place | null {
    const before = this.#segments.findLast(
      ({ script }) => script.line < line || (script.line === line && script.column <= column),
    );
    return before?.cell ?? null;
  }

  /** The first place of the script that comes from this line of the cell, or from the next that has one. */
  inScript(line: number): { readonly script: Place; readonly line: number } | null {
    const below = this.#segments.filter(({ cell }) => cell.line >= line);
    const found = Math.min(...below.map(({ cell }) => cell.line));
    const first = below.find(({ cell }) => cell.line === found);
    return first === undefined ? null : { script: first.script, line: found };
  }
}

const digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

// Source: "Source map revision 3 proposal", mappings.
function segmentsOf(mappings: string): readonly Segment[] {
  const found: Segment[] = [];
  let [cellLine, cellColumn] = [0, 0];
  for (const [line, text] of mappings.split(";").entries()) {
    let column = 0;
    for (const part of text.split(",")) {
      const [toColumn, , toLine, toCellColumn] = numbersIn(part);
      if (toColumn === undefined) continue;
      column += toColumn;
      if (toLine === undefined || toCellColumn === undefined) continue;
      cellLine += toLine;
      cellColumn += toCellColumn;
      found.push({ script: { line, column }, cell: { line: cellLine, column: cellColumn } });
    }
  }
  return found;
}

// Numbers of base 64 digits, the lowest five bits first; the lowest bit of all is the sign.
function numbersIn(part: string): number[] {
  const numbers: number[] = [];
  let [value, shift] = [0, 0];
  for (const letter of part) {
    const digit = digits.indexOf(letter);
    value += (digit & 31) << shift;
    shift += 5;
    if ((digit & 32) !== 0) continue;
    numbers.push((value & 1) === 1 ? -(value >> 1) : value >> 1);
    [value, shift] = [0, 0];
  }
  return numbers;
}

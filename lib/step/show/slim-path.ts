/**
 * The places of a path, rounded, each line's end told from its start where that is shorter: what is
 * rounded to a tenth stays a tenth, however many lines follow each other. Paths with other curves
 * than lines are only rounded.
 */
export function slimPath(d: string): string {
  if (!/^[MLZe\d.,\s-]*$/.test(d) || !d.includes("L")) {
    return d.replace(longNumber, rounded(100));
  }
  const pieces = [...d.matchAll(/([MLZ])([^MLZ]*)/g)].map(([, letter = "", places = ""]) => ({
    letter,
    point: places
      .split(/[\s,]+/)
      .filter((part) => part !== "")
      .map((part) => tenths(part)),
  }));
  return pieces
    .map(({ letter, point }, i) => pieceText(letter, point, startOf(pieces, i)))
    .join("");
}

interface Piece {
  readonly letter: string;
  readonly point: readonly number[];
}

const longNumber = /-?\d+(?:\.\d{2,}(?:e-?\d+)?|(?:\.\d+)?e-?\d+)/g;
const tenths = (text: string) => Math.round(Number(text) * 10);
const rounded = (by: number) => (text: string) => String(Math.round(Number(text) * by) / by + 0);

/** Where the piece before ends; null after a closed path. */
function startOf(pieces: readonly Piece[], i: number): readonly number[] | null {
  const before = pieces[i - 1];
  return before === undefined || before.letter === "Z" ? null : before.point;
}

function pieceText(
  letter: string,
  point: readonly number[],
  start: readonly number[] | null,
): string {
  if (letter !== "L" || start === null) return letter + pair(point);
  return `l${pair(point.map((place, i) => place - (start[i] ?? 0)))}`;
}

/** Two places, in tenths, without what divides them where a sign does. */
function pair(point: readonly number[]): string {
  const [x, y] = point.map((place) => String(place / 10).replace(/^(-?)0\./, "$1."));
  if (x === undefined || y === undefined) return "";
  return y.startsWith("-") ? x + y : `${x},${y}`;
}

/**
 * The name that a misspelt one most likely stands for: a third of its letters changed at the most,
 * capitals, underscores and units apart; null where none is near.
 */
export function nearestName(given: string, known: readonly string[]): string | null {
  let nearest: string | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const name of known) {
    const distance = nameDistance(given, name);
    if (distance < least) [nearest, least] = [name, distance];
  }
  return nearest;
}

/** Letters changed between two names; infinite where they are too far apart to be one. */
function nameDistance(given: string, name: string): number {
  const forms = [
    [letters(given), letters(name)],
    [withoutUnit(given), withoutUnit(name)],
  ] as const;
  const near = forms
    .map(([from, to]) => ({ to, distance: editDistance(from, to) }))
    .filter(({ to, distance }) => distance <= Math.max(1, Math.floor(to.length / 3)));
  return Math.min(...near.map(({ distance }) => distance));
}

function letters(name: string): string {
  return name.toLowerCase().replaceAll("_", "");
}

/** "minlength" of "minLength_m": what is left out most is the unit. */
function withoutUnit(name: string): string {
  return letters(name.replace(/(?!^)_.*/, ""));
}

/** Levenshtein's distance with Damerau's swap: letters put in, left out, exchanged or swapped. */
function editDistance(from: string, to: string): number {
  let before: number[] = [];
  let row = Array.from({ length: to.length + 1 }, (_, j) => j);
  for (const [i, letter] of [...from].entries()) {
    const next = [i + 1];
    for (const [j, target] of [...to].entries()) {
      const exchanged = row[j]! + (letter === target ? 0 : 1);
      const swaps = i > 0 && j > 0 && letter === to[j - 1] && from[i - 1] === target;
      const swapped = swaps ? before[j - 1]! + 1 : Number.POSITIVE_INFINITY;
      next.push(Math.min(exchanged, swapped, row[j + 1]! + 1, next[j]! + 1));
    }
    [before, row] = [row, next];
  }
  return row.at(-1) ?? 0;
}

/** The name that a misspelt one most likely stands for: a third of its letters changed at the most. */
export function nearestName(given: string, known: readonly string[]): string | null {
  const from = plain(given);
  const near = known
    .map((name) => ({ name, distance: editDistance(from, plain(name)) }))
    .filter(({ name, distance }) => distance <= Math.max(1, Math.floor(name.length / 3)))
    .sort((one, other) => one.distance - other.distance);
  return near[0]?.name ?? null;
}

/** Case, and the unit after the last underscore's word, are what is misspelt most. */
function plain(name: string): string {
  return name.toLowerCase().replaceAll("_", "");
}

/** Levenshtein's distance: letters put in, left out or exchanged. */
function editDistance(one: string, other: string): number {
  let row = Array.from({ length: other.length + 1 }, (_, j) => j);
  for (const [i, letter] of [...one].entries()) {
    const next = [i + 1];
    for (const [j, target] of [...other].entries()) {
      const swap = row[j]! + (letter === target ? 0 : 1);
      next.push(Math.min(swap, row[j + 1]! + 1, next[j]! + 1));
    }
    row = next;
  }
  return row[other.length]!;
}

/** Every allowed cut tried through a plain recursion over costs computed from their definition. */
export interface BruteForceCase {
  readonly columns: readonly (readonly number[])[];
  readonly noise: readonly number[];
  readonly penalty: number | "mbic";
  readonly minLength: number;
}

export interface BruteForceCut {
  readonly breaks: readonly number[];
  readonly objective: number;
}

export function bruteForceCut(given: BruteForceCase): BruteForceCut {
  const n = given.columns[0]!.length;
  let best: BruteForceCut = { breaks: [], objective: objective(given, []) };
  const extend = (breaks: readonly number[]) => {
    const last = breaks.at(-1) ?? 0;
    for (let at = last + given.minLength; at <= n - given.minLength; at++) {
      const cut = [...breaks, at];
      const value = objective(given, cut);
      // Breaks are tried in rising order, so among equals the earliest stays.
      if (value < best.objective - 1e-9) best = { breaks: cut, objective: value };
      extend(cut);
    }
  };
  extend([]);
  return best;
}

/** The penalised cost of one cut, straight from the definition. */
export function objective(given: BruteForceCase, breaks: readonly number[]): number {
  const { columns, noise, penalty } = given;
  const n = columns[0]!.length;
  const edges = [0, ...breaks, n];
  let total = penalty === "mbic" ? 2 * breaks.length * Math.log(presentRows(columns)) : 0;
  if (penalty !== "mbic") total += penalty * breaks.length;
  columns.forEach((column, c) => {
    for (let s = 0; s + 1 < edges.length; s++) {
      const values = present(column.slice(edges[s]!, edges[s + 1]!));
      total += squares(values) / noise[c]!;
      if (penalty === "mbic" && values.length > 0) total += Math.log(values.length);
    }
    const all = present(column).length;
    if (penalty === "mbic" && all > 0) total -= Math.log(all);
  });
  return total;
}

const present = (values: readonly number[]) => values.filter((value) => !Number.isNaN(value));

function squares(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
}

function presentRows(columns: readonly (readonly number[])[]): number {
  const rows = columns[0]!.map((_, i) => columns.some((column) => !Number.isNaN(column[i]!)));
  return Math.max(1, rows.filter(Boolean).length);
}

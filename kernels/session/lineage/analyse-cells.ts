import { type StatementScan, scanCell } from "./lineage-scan.js";
import { type Made, walk } from "./lineage-table.js";

/** A code cell of a stored notebook. */
export interface StoredCell {
  readonly source: string;
  /** Null where the cell has not run. */
  readonly executionCount: number | null;
}

/** What a cell does with top-level names when the notebook runs from top to bottom. */
export interface CellNames {
  /** Declared, or given a new value. */
  readonly defines: readonly string[];
  /** Names of cells above that it changes. */
  readonly changes: readonly string[];
  /** Names that other cells make and that it reads, also through functions that it calls. */
  readonly reads: readonly string[];
}

export interface OrderProblem {
  /** Place of the cell among the code cells, from 0. */
  readonly cell: number;
  readonly kind: "read-before-made" | "other-value" | "ran-early" | "not-run";
  /** The name that it is about; null where it is about the whole cell. */
  readonly name: string | null;
  readonly text: string;
}

export interface NotebookAnalysis {
  readonly cells: readonly CellNames[];
  readonly problems: readonly OrderProblem[];
}

interface Cell extends StoredCell {
  readonly statements: readonly StatementScan[];
}

/** For each name that a cell read: the place of the cell whose value it was; -1 for none. */
type Writers = ReadonlyMap<string, number>;

/**
 * Reads and writes of a notebook's code cells, and what its order is amiss: a name read above the
 * cell that makes it; a cell that by the execution counts read another cell's value than it would
 * from top to bottom; cells that ran before one above them; cells that did not run.
 */
export function analyseCells(given: readonly (string | StoredCell)[]): NotebookAnalysis {
  const cells = given.map((one): Cell => {
    const stored = typeof one === "string" ? { source: one, executionCount: null } : one;
    return { ...stored, statements: scanCell(stored.source) };
  });
  const all = cells.map((_, at) => at);
  const { names, writers } = follow(cells, all);
  const counted = all.filter((at) => count(cells, at) !== null);
  const ran = counted.sort((a, b) => (count(cells, a) ?? 0) - (count(cells, b) ?? 0));
  const problems = [
    ...readBeforeMade(cells, writers),
    ...(ran.length > 0 ? [...runProblems(cells, ran), ...otherValues(cells, writers, ran)] : []),
  ];
  return { cells: names, problems: problems.sort((a, b) => a.cell - b.cell) };
}

function count(cells: readonly Cell[], at: number): number | null {
  return cells[at]?.executionCount ?? null;
}

// Runs the cells in this order, on names only.
function follow(cells: readonly Cell[], order: readonly number[]) {
  const table = new Map<string, Made>();
  const lastWriter = new Map<string, number>();
  const names: CellNames[] = [];
  const writers: Writers[] = [];
  const everMade = new Set(cells.flatMap(({ statements }) => madeNames(statements)));
  let version = 0;
  for (const at of order) {
    const statements = cells[at]?.statements ?? [];
    const steps = walk(table, statements, {
      execution: at,
      cell: null,
      run: at,
      nextVersion: () => ++version,
      stampOf: () => "",
    });
    const own = new Set<string>();
    const read = new Map<string, number>();
    for (const step of steps) {
      for (const name of step.names) {
        if (own.has(name) || !everMade.has(name) || read.has(name)) continue;
        read.set(name, lastWriter.get(name) ?? -1);
      }
      for (const { name } of step.makes) own.add(name);
    }
    const made = steps.flatMap(({ makes }) => makes);
    const changed = steps.flatMap(({ changes }) => changes);
    for (const one of steps.flatMap((step) => [...step.makes, ...step.changes])) {
      table.set(one.name, one);
      lastWriter.set(one.name, at);
    }
    writers[at] = read;
    names[at] = {
      defines: [...new Set(made.map(({ name }) => name))],
      changes: [...new Set(changed.map(({ name }) => name))].filter((one) => !own.has(one)),
      reads: [...read.keys()],
    };
  }
  return { names, writers };
}

function madeNames(statements: readonly StatementScan[]): string[] {
  return statements.flatMap(({ makes }) => makes.map(({ name }) => name));
}

function readBeforeMade(cells: readonly Cell[], writers: readonly Writers[]): OrderProblem[] {
  return writers.flatMap((read, cell) =>
    [...read].flatMap(([name, writer]): OrderProblem[] => {
      const maker = cells.findIndex(({ statements }) => madeNames(statements).includes(name));
      const makesItself = madeNames(cells[cell]?.statements ?? []).includes(name);
      if (writer >= 0 || maker < cell || (makesItself && maker === cell)) return [];
      const text = `cell ${cell + 1} reads \`${name}\`, which cell ${maker + 1} below it makes`;
      return [{ cell, kind: "read-before-made", name, text }];
    }),
  );
}

function otherValues(
  cells: readonly Cell[],
  fromTop: readonly Writers[],
  ran: readonly number[],
): OrderProblem[] {
  const { writers } = follow(cells, ran);
  return ran.flatMap((cell) =>
    [...(fromTop[cell] ?? [])].flatMap(([name, expected]): OrderProblem[] => {
      const actual = writers[cell]?.get(name) ?? -1;
      if (actual === expected || expected < 0) return [];
      const whose = actual < 0 ? "an earlier run's value" : `the value of ${called(cells, actual)}`;
      const text = `${called(cells, cell)} read ${whose} of \`${name}\`; from top to bottom it is that of ${called(cells, expected)}`;
      return [{ cell, kind: "other-value", name, text }];
    }),
  );
}

function runProblems(cells: readonly Cell[], ran: readonly number[]): OrderProblem[] {
  const problems: OrderProblem[] = [];
  let latest: number | null = null;
  for (const [cell, { executionCount, statements }] of cells.entries()) {
    if (executionCount === null && statements.length > 0 && ran.length > 0) {
      const text = `cell ${cell + 1} has not run`;
      problems.push({ cell, kind: "not-run", name: null, text });
    }
    if (executionCount === null) continue;
    if (latest !== null && executionCount < (count(cells, latest) ?? 0)) {
      const text = `${called(cells, cell)} ran before ${called(cells, latest)}, which stands above it`;
      problems.push({ cell, kind: "ran-early", name: null, text });
    } else latest = cell;
  }
  return problems;
}

function called(cells: readonly Cell[], at: number): string {
  const run = count(cells, at);
  return run === null ? `cell ${at + 1}` : `cell ${at + 1} ([${run}])`;
}

import type { DisplayOutput } from "../show/outputs.js";
import { noticeOutput, staleSentences } from "./lineage-notice.js";
import { scanCell } from "./lineage-scan.js";
import { type Execution, type Made, type Step, walk } from "./lineage-table.js";

/** A value that a name had. */
export interface NamedValue {
  readonly name: string;
  /** Execution count of the cell that made it. */
  readonly execution: number;
  /** The front end's id of that cell; null where it gave none. */
  readonly cell: string | null;
  /** Another number for each value that the name was given anew. */
  readonly version: number;
}

export interface NameLineage extends NamedValue {
  readonly kind: "import" | "function" | "class" | "value";
  /** What the value was made from, as it stood then. */
  readonly reads: readonly NamedValue[];
  /** What its functions read when they are called. */
  readonly readsWhenCalled: readonly string[];
  /** True where something that it was made from has been made anew or removed since. */
  readonly stale: boolean;
  /** Execution count at which its cell ran without making it; else null. */
  readonly removedBy: number | null;
}

export interface ExecutionLineage {
  readonly execution: number;
  readonly cell: string | null;
  readonly defines: readonly string[];
  /** Names of earlier cells that it changed: assigned to, or a property or an element of them. */
  readonly changes: readonly string[];
  readonly reads: readonly NamedValue[];
}

/** What was made from what; plain data. */
export interface LineageData {
  readonly names: readonly NameLineage[];
  readonly executions: readonly ExecutionLineage[];
}

/** A name whose functions use others when they are called. */
export interface Captor {
  readonly name: string;
  /** Execution count of the cell that made it. */
  readonly execution: number;
  /** Its declaration by itself. */
  readonly declaration: string;
}

/** A cell about to run. */
export interface PlannedCell {
  /** Said at the top of the cell's outputs; null where all it uses is up to date. */
  readonly notice: DisplayOutput | null;
  /**
   * Records what the cell did. `reached`: the statement that it came to when it threw; null where it
   * ran to its end. What that statement would have made has not been made.
   */
  done(reached: number | null): void;
}

/**
 * Keeps, for each top-level name, which cell's which execution made it from what. It reads the
 * syntax tree, so it does not see: changes through another name of the same value, values that reach
 * a cell through files or globals, names built at run time.
 */
export class Lineage {
  readonly #table = new Map<string, Made>();
  readonly #executions: ExecutionLineage[] = [];
  readonly #stampOf: (specifier: string) => string;
  #version = 0;
  #run = 0;

  constructor(stampOf: (specifier: string) => string = () => "") {
    this.#stampOf = stampOf;
  }

  plan(source: string, by: Omit<Execution, "run">): PlannedCell {
    this.#run += 1;
    const who = { ...by, run: this.#run };
    const nextVersion = () => {
      this.#version += 1;
      return this.#version;
    };
    const steps = walk(this.#table, scanCell(source), {
      ...who,
      nextVersion,
      stampOf: this.#stampOf,
    });
    const read = new Set(steps.flatMap((step) => step.reads.map(({ name }) => name)));
    return {
      notice: noticeOutput(staleSentences(this.#table, read)),
      done: (reached) => this.#record(who, steps, reached),
    };
  }

  /** Names of cells that are gone: nothing makes them any more. */
  remove(cellIds: readonly string[], execution: number): void {
    for (const [name, one] of this.#table) {
      if (one.cell === null || one.removedBy !== null || !cellIds.includes(one.cell)) continue;
      this.#table.set(name, { ...one, removedBy: execution });
    }
  }

  has(name: string): boolean {
    return this.#table.has(name);
  }

  /** The text of a function or a class as its cell declares it; null for other names. */
  textOf(name: string): string | null {
    const made = this.#table.get(name);
    return made?.kind === "function" || made?.kind === "class" ? made.declaration : null;
  }

  /** Names whose functions use one of these when they are called. */
  capturing(names: ReadonlySet<string>): Captor[] {
    return [...this.#table.values()].flatMap(
      ({ name, execution, declaration, later, removedBy }) => {
        const captures = [...later.reads].some((read) => read !== name && names.has(read));
        if (declaration === null || removedBy !== null || !captures) return [];
        return [{ name, execution, declaration }];
      },
    );
  }

  data(): LineageData {
    const names = [...this.#table.values()].map((made) => this.#nameLineage(made));
    return { names, executions: [...this.#executions] };
  }

  #record(by: Execution, steps: readonly Step[], reached: number | null): void {
    const ran = steps.flatMap((step) => ranPart(step, reached));
    for (const step of ran) {
      for (const made of [...step.makes, ...step.changes]) this.#table.set(made.name, made);
    }
    if (by.cell !== null) this.#removeOthers(by, steps);
    const defines = namesIn(ran.flatMap(({ makes }) => makes));
    this.#executions.push({
      execution: by.execution,
      cell: by.cell,
      defines,
      changes: namesIn(ran.flatMap(({ changes }) => changes)).filter(
        (one) => !defines.includes(one),
      ),
      reads: unique(ran.flatMap(({ reads }) => reads)).map(namedValue),
    });
  }

  // Names that an earlier text of the same cell made.
  #removeOthers(by: Execution, steps: readonly Step[]): void {
    const made = new Set(steps.flatMap(({ makes }) => makes.map(({ name }) => name)));
    for (const [name, one] of this.#table) {
      if (one.cell !== by.cell || made.has(name) || one.removedBy !== null) continue;
      this.#table.set(name, { ...one, removedBy: by.execution });
    }
  }

  #nameLineage(made: Made): NameLineage {
    return {
      ...namedValue(made),
      kind: made.kind,
      reads: [...made.reads.values()].map(namedValue),
      readsWhenCalled: [...made.later.reads].filter((name) => this.#table.has(name)),
      stale: staleSentences(this.#table, [made.name]).length > 0 && made.removedBy === null,
      removedBy: made.removedBy,
    };
  }
}

function ranPart(step: Step, reached: number | null): Step[] {
  if (reached === null || step.index < reached) return [step];
  if (step.isHoisted && reached >= 0) return [step];
  return step.index === reached ? [{ ...step, makes: [] }] : [];
}

function namesIn(made: readonly Made[]): string[] {
  return [...new Set(made.map(({ name }) => name))];
}

function unique(made: readonly Made[]): Made[] {
  return [...new Map(made.map((one) => [one.name, one])).values()];
}

function namedValue({ name, execution, cell, version }: NamedValue): NamedValue {
  return { name, execution, cell, version };
}

import type { BindingOf } from "../run/binding-values.js";
import type {
  Captor,
  ExecutionLineage,
  LineageData,
  LineageOptions,
  NamedValue,
  NameLineage,
  PlannedCell,
} from "./lineage-data.js";
import { noticeOutput, staleSentences } from "./lineage-notice.js";
import { scanCell } from "./lineage-scan.js";
import {
  byHand,
  changed,
  type Execution,
  lastChange,
  type Made,
  type Read,
  readBy,
  type Step,
  walk,
} from "./lineage-table.js";
import { ObservedValues } from "./observed-values.js";
import { afterDeletion, afterRerun, withDoubts } from "./repeated-changes.js";

/**
 * Keeps, for each top-level name, which cell's which execution made it from what. It reads the
 * syntax tree, and after each cell what the names hold. It does not see: changes within instances of
 * packages' classes and in closures, single elements among very many, values that reach a cell
 * through files or globals, names built at run time.
 */
export class Lineage {
  readonly #table = new Map<string, Made>();
  readonly #executions: ExecutionLineage[] = [];
  readonly #stampOf: (specifier: string) => string;
  readonly #bindingOf: BindingOf;
  readonly #observed: ObservedValues;
  /** Text and inputs of each run. */
  readonly #inputs = new Map<number, string>();
  #version = 0;
  #run = 0;

  constructor({ stampOf = () => "", bindingOf = () => null }: LineageOptions = {}) {
    this.#stampOf = stampOf;
    this.#bindingOf = bindingOf;
    this.#observed = new ObservedValues(bindingOf);
  }

  /** `isBeside`: another cell waits meanwhile. What that one changes is not looked for in this one. */
  plan(source: string, by: Omit<Execution, "run">, { isBeside = false } = {}): PlannedCell {
    this.#run += 1;
    const who = { ...by, run: this.#run };
    const walker = { ...who, nextVersion: this.#nextVersion, stampOf: this.#stampOf };
    const steps = walk(this.#table, scanCell(source), walker);
    this.#inputs.set(who.run, inputsOf(source, steps));
    const read = new Set(steps.flatMap((step) => step.reads.map(({ name }) => name)));
    const said = staleSentences(this.#table, read);
    return {
      notice: noticeOutput(said),
      done: (reached) => {
        const { changes } = this.#record(who, steps, { reached, isBeside });
        const now = by.cell === null ? [] : staleSentences(this.#table, changes);
        return noticeOutput(now.filter((one) => !said.includes(one)));
      },
    };
  }

  readonly #nextVersion = () => {
    this.#version += 1;
    return this.#version;
  };

  /** Names of cells that are gone: nothing makes them any more. */
  remove(cellIds: readonly string[], execution: number): void {
    for (const [name, one] of this.#table) {
      const changed = afterDeletion(one, cellIds, execution);
      const isGone = one.cell !== null && one.removedBy === null && cellIds.includes(one.cell);
      this.#table.set(name, isGone ? { ...changed, removedBy: execution } : changed);
    }
  }

  /** Whoever has the notebook open has chosen another value of this widget, while no cell ran. */
  changedByHand(widget: object): void {
    const by = { execution: byHand, cell: null, run: 0, nextVersion: this.#nextVersion };
    const change = { reads: new Map(), parts: null, isSeen: true };
    for (const [name, made] of this.#table) {
      if (made.kind !== "value" || this.#bindingOf(name)?.value !== widget) continue;
      this.#table.set(name, changed(made, change, by));
      this.#observed.look([name], [], []);
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

  #record(
    by: Execution,
    steps: readonly Step[],
    { reached, isBeside }: { readonly reached: number | null; readonly isBeside: boolean },
  ): ExecutionLineage {
    const ran = steps.flatMap((step) => ranPart(step, reached));
    for (const step of ran) {
      for (const made of [...step.makes, ...step.changes]) this.#table.set(made.name, made);
    }
    if (by.cell !== null) this.#removeOthers(by, steps);
    const found = isBeside ? this.#lookAtOwn(ran) : this.#lookAtValues(by, ran);
    const defines = namesIn(ran.flatMap(({ makes }) => makes));
    const changes = [...namesIn(ran.flatMap((step) => step.changes)), ...found].filter(
      (one) => !defines.includes(one),
    );
    const reads = unique(ran.flatMap((step) => step.reads)).map(namedValue);
    const { execution, cell } = by;
    const record = { execution, cell, defines, changes: [...new Set(changes)], reads };
    this.#executions.push(record);
    return record;
  }

  // Only what its text says it changed: so it is not found again as the change of another cell.
  #lookAtOwn(ran: readonly Step[]): string[] {
    const own = namesIn(ran.flatMap(({ makes, changes }) => [...makes, ...changes]));
    this.#observed.look(own, [], []);
    return [];
  }

  // What the cell changed although its text does not show it; then what its runs add up to.
  #lookAtValues(by: Execution, ran: readonly Step[]): string[] {
    const touched = ran.flatMap(({ names, makes, changes }) => [
      ...[...makes, ...changes].map(({ name }) => name),
      ...names,
    ]);
    const ofKind = (kind: Made["kind"]) =>
      [...this.#table.values()].filter((one) => one.kind === kind).map(({ name }) => name);
    const values = ofKind("value");
    const isValue = new Set(values);
    const known = touched.filter((name) => isValue.has(name));
    const observed = this.#observed.look(known, values, ofKind("class"));
    const found: string[] = [];
    for (const { name, isSame, isObject } of observed) {
      const made = this.#table.get(name) as Made;
      const isOwn = made.run === by.run || lastChange(made)?.run === by.run;
      const isFound = isSame === false && !isOwn;
      if (isFound) found.push(name);
      const reads = new Map(isFound ? this.#readsBehind(name, by, ran) : []);
      const now = isFound
        ? changed(
            made,
            { reads, parts: null, isSeen: false },
            { ...by, nextVersion: this.#nextVersion },
          )
        : made;
      this.#table.set(name, { ...now, isObject });
    }
    const unchanged = new Set(
      observed.filter(({ isSame, isWhole }) => isSame === true && isWhole).map(({ name }) => name),
    );
    this.#addUp(by, unchanged);
    return found;
  }

  // What the statements that name the value read; where none does, all of them.
  #readsBehind(name: string, by: Execution, ran: readonly Step[]): (readonly [string, Read])[] {
    const naming = ran.filter(({ names }) => names.includes(name));
    const names = (naming.length > 0 ? naming : ran).flatMap((step) => step.names);
    return [...new Set(names)].flatMap((one) => {
      const made = this.#table.get(one);
      return made === undefined || one === name ? [] : [[one, readBy(made, by)] as const];
    });
  }

  #addUp(by: Execution, unchanged: ReadonlySet<string>): void {
    const inputs = this.#inputs.get(by.run);
    const isSameRun = (run: number) => this.#inputs.get(run) === inputs;
    for (const [name, made] of this.#table) {
      this.#table.set(name, afterRerun(made, by, { isSameRun, unchanged }));
    }
    for (const [name, made] of this.#table) {
      this.#table.set(name, withDoubts(made, this.#table, by.run));
    }
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
      reads: [...made.reads.values()].filter((one) => !one.isState).map(namedValue),
      readsWhenCalled: [...made.later.reads].filter((name) => this.#table.has(name)),
      stale: staleSentences(this.#table, [made.name]).length > 0 && made.removedBy === null,
      removedBy: made.removedBy,
    };
  }
}

// The text, and the values that the cell read and did not change.
function inputsOf(source: string, steps: readonly Step[]): string {
  const own = new Set(steps.flatMap(({ changes }) => namesIn(changes)));
  const read = steps.flatMap((step) => step.reads.filter(({ name }) => !own.has(name)));
  return [source, ...read.map(({ name, version }) => `${name} ${version}`)].join("\0");
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

import type { BindingOf } from "../run/binding-values.js";
import { type Fingerprint, fingerprintOf, stepsForValue } from "./fingerprint.js";

/** Steps for all names after one cell: a few milliseconds. */
const stepsForCell = 8 * stepsForValue;

/** What became of a name's value since the cell before. */
export interface Observed {
  readonly name: string;
  /** Null where it had not been looked at. */
  readonly isSame: boolean | null;
  readonly isWhole: boolean;
  readonly isObject: boolean;
}

/** Looks after each cell at what the top-level names hold: some changes do not show in the syntax. */
export class ObservedValues {
  readonly #bindingOf: BindingOf;
  readonly #known = new Map<string, Fingerprint & { readonly look: number }>();
  #look = 0;

  constructor(bindingOf: BindingOf) {
    this.#bindingOf = bindingOf;
  }

  /** `names`: the most important first; the rest by how long they have not been looked at. */
  look(
    names: readonly string[],
    others: readonly string[],
    classes: readonly string[],
  ): Observed[] {
    this.#look += 1;
    const prototypes = new Set(classes.flatMap((name) => this.#prototypeOf(name)));
    const age = (name: string) => this.#known.get(name)?.look ?? 0;
    const all = new Set([...names, ...[...others].sort((a, b) => age(a) - age(b))]);
    const found: Observed[] = [];
    let left = stepsForCell;
    for (const name of all) {
      if (left <= 0) break;
      const observed = this.#observe(name, prototypes);
      if (observed === null) continue;
      left -= observed.cost + 1;
      found.push(observed);
    }
    return found;
  }

  #observe(
    name: string,
    prototypes: ReadonlySet<object>,
  ): (Observed & { readonly cost: number }) | null {
    const held = this.#bindingOf(name);
    if (held === null) {
      this.#known.delete(name);
      return null;
    }
    const now = fingerprintOf(held.value, { prototypes, most: stepsForValue });
    const before = this.#known.get(name);
    this.#known.set(name, { ...now, look: this.#look });
    const { isWhole, isObject, cost } = now;
    const isSame = before === undefined ? null : before.hash === now.hash;
    return { name, isSame, isWhole, isObject, cost };
  }

  #prototypeOf(name: string): object[] {
    const value = this.#bindingOf(name)?.value;
    const prototype: unknown = typeof value === "function" ? value.prototype : null;
    return typeof prototype === "object" && prototype !== null ? [prototype] : [];
  }
}

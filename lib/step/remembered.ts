interface Kept<Value> {
  readonly given: readonly object[];
  readonly settings: string;
  readonly value: Value;
}

/**
 * What was made last of the same values, for steps that are run again with an option that does not
 * enter it. Values are the same where they are the same objects, and frozen, as those of results
 * are; of others nothing is kept. Columns cannot be frozen: they count as the results' that hold
 * them. So many answers are held at the most.
 */
export class Remembered<Value> {
  readonly #kept: Kept<Value>[] = [];

  constructor(private readonly most: number) {}

  /** `settings`: all else that the answer rests on. */
  of(given: readonly object[], settings: string, make: () => Value): Value {
    if (!given.every((one) => ArrayBuffer.isView(one) || Object.isFrozen(one))) return make();
    const at = this.#kept.findIndex(
      (one) => one.settings === settings && one.given.every((value, i) => value === given[i]),
    );
    const found = this.#kept[at];
    if (found !== undefined) return found.value;
    const value = make();
    this.#kept.unshift({ given, settings, value });
    this.#kept.length = Math.min(this.#kept.length, this.most);
    return value;
  }
}

/** How a cell ended: the error that it threw, if any. */
export type CellEnd = { readonly threw: false } | { readonly threw: true; readonly error: unknown };

/** What a cell declared with `using` at its top, to be disposed of when it ends. */
export class Resources {
  readonly #disposals: (() => unknown)[] = [];

  /** `using`: takes what has a `Symbol.dispose` method, null or undefined. */
  use<Value>(value: Value): Value {
    this.#add(value, ["dispose"]);
    return value;
  }

  /** `await using`: takes what has a `Symbol.asyncDispose` method, too. */
  useAsync<Value>(value: Value): Value {
    this.#add(value, ["asyncDispose", "dispose"]);
    return value;
  }

  #add(value: unknown, names: readonly ("dispose" | "asyncDispose")[]): void {
    if (value === null || value === undefined) return;
    for (const name of names) {
      const method = Object(value)[Symbol[name]] as unknown;
      if (method === undefined || method === null) continue;
      if (typeof method !== "function") break;
      const isAwaited = names.length > 1;
      this.#disposals.push(() => {
        const given: unknown = method.call(value);
        return isAwaited ? given : undefined;
      });
      return;
    }
    const wanted = names.map((name) => `Symbol.${name}`).join(" or ");
    throw new TypeError(`what \`using\` declares must have a method ${wanted}, or be null`);
  }

  /** Disposes, the last one first; errors on the way suppress those before, as the language has it. */
  async dispose(end: CellEnd): Promise<CellEnd> {
    let ended = end;
    for (const disposal of this.#disposals.splice(0).reverse()) {
      try {
        await disposal();
      } catch (error) {
        ended = { threw: true, error: ended.threw ? suppressing(error, ended.error) : error };
      }
    }
    return ended;
  }
}

// ECMA-262, draft of 2026, "SuppressedError"; Node has it from 24 on.
function suppressing(error: unknown, suppressed: unknown): Error {
  const made = new Error("an error was suppressed while the cell's resources were disposed of");
  made.name = "SuppressedError";
  made.stack = `${made.name}: ${made.message}`;
  return Object.assign(made, { error, suppressed });
}

import { Script } from "node:vm";
import { isGlobalName } from "../cell/global-names.js";
import { marked } from "../cell/marked-names.js";

/** What a top-level name holds; null where it has no binding yet. */
export type BindingOf = (name: string) => { readonly value: unknown } | null;

/** Reads the cells' top-level names, which live in the global scope's own list of `let`s. */
export function createBindingOf(): BindingOf {
  const readers = new Map<string, () => unknown>();
  return (name) => {
    try {
      const reader = readers.get(name) ?? readerOf(name);
      readers.set(name, reader);
      return { value: reader() };
    } catch {
      // A cell that threw before its declaration leaves a name without a value.
      return null;
    }
  };
}

function readerOf(name: string): () => unknown {
  const binding = isGlobalName(name) ? marked(name) : name;
  return new Script(`() => ${binding}`).runInThisContext() as () => unknown;
}

import type { Notebook } from "../notebook/notebook.js";

/** A path of this machine, and what stands for it in a stored notebook. */
export type Stand = readonly [path: string, shown: string];

/** The notebook with the paths replaced in every text, longest path first. */
export function withoutPaths(notebook: Notebook, stands: readonly Stand[]): Notebook {
  const ordered = [...stands]
    .filter(([path]) => path.length > 1)
    .sort(([a], [b]) => b.length - a.length);
  const replaced = (value: unknown): unknown => {
    if (typeof value === "string") {
      return ordered.reduce((text, [path, shown]) => text.replaceAll(path, shown), value);
    }
    if (Array.isArray(value)) return value.map(replaced);
    if (typeof value !== "object" || value === null) return value;
    return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, replaced(one)]));
  };
  return replaced(notebook) as Notebook;
}

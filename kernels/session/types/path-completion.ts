import { readdirSync } from "node:fs";
import { builtinModules } from "node:module";
import { dirname, join } from "node:path";

/** A text between quotes that ends at the cursor. */
export interface OpenText {
  readonly text: string;
  /** True where the text names a module. */
  readonly isImport: boolean;
}

export interface PathEntry {
  readonly name: string;
  readonly kind: "folder" | "file" | "module";
}

const opened = /(["'`])((?:(?!\1)[^\\\n])*)$/;
const importing = /(?:\bfrom|\bimport|\bimport\s*\(|\brequire\s*\()\s*$/;

/** The text in quotes that the cursor stands in, on its line; null outside quotes. */
export function openText(code: string, cursor: number): OpenText | null {
  const line = code.slice(code.lastIndexOf("\n", cursor - 1) + 1, cursor);
  const quotes = /^(?:[^"'`]|(["'`])(?:(?!\1)[^\\]|\\.)*\1)*/.exec(line)?.[0].length ?? 0;
  const found = opened.exec(line.slice(quotes));
  if (found === null) return null;
  return { text: found[2] ?? "", isImport: importing.test(line.slice(0, quotes + found.index)) };
}

/**
 * What a text in quotes may go on with: files and folders below the notebook's folder, and in an
 * import also Node's modules and the packages that are installed. Only what begins with the part
 * behind the last slash.
 */
export function pathEntries(folder: string, { text, isImport }: OpenText): PathEntry[] {
  const at = text.lastIndexOf("/") + 1;
  const [above, typed] = [text.slice(0, at), text.slice(at)];
  const isPath = /^\.{0,2}\//.test(text) || (!isImport && above !== "");
  const found = isImport && !isPath ? moduleEntries(folder, above) : [];
  const files = isPath || !isImport ? fileEntries(join(folder, above)) : [];
  return [...found, ...files]
    .filter(({ name }) => name.startsWith(typed) && (typed !== "" || !name.startsWith(".")))
    .sort((a, b) => (a.name < b.name ? -1 : 1));
}

function fileEntries(folder: string): PathEntry[] {
  return entriesOf(folder).map(({ name, isFolder }) =>
    isFolder ? { name: `${name}/`, kind: "folder" } : { name, kind: "file" },
  );
}

// `above`: a scope (`@turf/`), `node:` modules in a folder (`fs/`), or nothing.
function moduleEntries(folder: string, above: string): PathEntry[] {
  const named = (name: string): PathEntry => ({ name: name.slice(above.length), kind: "module" });
  const own = ["banquette", ...builtinModules.filter((name) => !name.startsWith("_"))];
  const packages = packageFolders(folder).flatMap((one) =>
    entriesOf(join(one, above))
      .filter(({ name, isFolder }) => isFolder && !name.startsWith("."))
      .map(({ name }) => (name.startsWith("@") ? `${name}/` : `${above}${name}`)),
  );
  const isBelow = above === "" || above.startsWith("@");
  const all = [...own.map((name) => (name === "banquette" ? name : `node:${name}`)), ...packages];
  const names = isBelow ? all.filter((name) => name.startsWith(above)) : [];
  return [...new Set(names)].map(named);
}

function packageFolders(folder: string): string[] {
  const above = dirname(folder);
  const own = join(folder, "node_modules");
  return above === folder ? [own] : [own, ...packageFolders(above)];
}

function entriesOf(folder: string): { readonly name: string; readonly isFolder: boolean }[] {
  try {
    return readdirSync(folder, { withFileTypes: true }).map((entry) => ({
      name: entry.name,
      isFolder: entry.isDirectory() || entry.isSymbolicLink(),
    }));
  } catch {
    return [];
  }
}

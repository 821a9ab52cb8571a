import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

const declarations = new URL("../../../lib/index.d.ts", import.meta.url);
const exporting = /export\s*\{([^}]*)\}\s*from/g;

let names: ReadonlySet<string> | null = null;

/** The values that `import { … } from "banquette"` gives. */
export function libraryNames(): ReadonlySet<string> {
  names ??= readNames();
  return names;
}

function readNames(): ReadonlySet<string> {
  const text = readFileSync(fileURLToPath(declarations), "utf8");
  const listed = [...text.matchAll(exporting)].flatMap(([, list = ""]) => list.split(","));
  const values = listed.map((one) => one.trim()).filter((one) => !one.startsWith("type "));
  return new Set(values.map((one) => one.split(" as ").at(-1) ?? one).filter((one) => one !== ""));
}

/** The line that imports a name of the library. */
export function importLine(name: string): string {
  return `import { ${name} } from "banquette";`;
}

import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { PackageVersions } from "../notebook/notebook-packages.js";

const requireHere = createRequire(import.meta.url);

/** The folder of this package: the compiled command stands three folders down. */
export const packageFolder = fileURLToPath(new URL("../../..", import.meta.url));

/** The notebook that `appendix` runs where no other is given. */
export const packagedNotebook = join(packageFolder, "notebooks", "appendix.ipynb");

export function packageVersion(): string {
  return versionIn(join(packageFolder, "package.json"));
}

const named = [
  "@expo-google-fonts/arimo",
  "@myriaddreamin/typst-ts-node-compiler",
  "tslab",
  "typescript",
  "cephes",
  "danfojs-node",
  "ml-matrix",
  "papaparse",
  "proj4",
  "sql.js",
  "vega",
  "vega-lite",
] as const;

export interface Versions {
  readonly banquette: string;
  readonly node: string;
  readonly packages: Readonly<Record<string, string>>;
}

/**
 * Versions of the program, of Node and of the packages that shape the outputs, with those that the
 * notebook's cells asked for; one that is the program's own, too, stands apart.
 */
export function versions(ofNotebook: PackageVersions = {}): Versions {
  const own = Object.fromEntries(named.map((name) => [name, installedVersion(name)]));
  const asked = Object.entries(ofNotebook).map(([name, version]) => [
    name in own ? `${name} (of the notebook)` : name,
    version,
  ]);
  const packages = { ...own, ...Object.fromEntries(asked) };
  return { banquette: packageVersion(), node: process.versions.node, packages };
}

function installedVersion(name: string): string {
  for (const folder of requireHere.resolve.paths(name) ?? []) {
    const file = join(folder, name, "package.json");
    if (existsSync(file)) return versionIn(file);
  }
  return "not installed";
}

function versionIn(file: string): string {
  return (JSON.parse(readFileSync(file, "utf8")) as { version: string }).version;
}

import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { isExactVersion, type WantedPackage } from "./wanted-packages.js";

/** The version of a package that an import in the folder finds, there or above; null for none. */
export function installedVersion(folder: string, name: string): string | null {
  const version = textIn(join(folder, "node_modules", name, "package.json"), ["version"]);
  if (version !== null) return version;
  const above = dirname(folder);
  return above === folder ? null : installedVersion(above, name);
}

/** The version of a package that the folder's own package.json keeps; null for none. */
export function recordedVersion(folder: string, name: string): string | null {
  return textIn(join(folder, "package.json"), ["dependencies", name]);
}

/** The version that a cell asks for: its own, else the recorded one; null for the latest. */
export function askedVersion(folder: string, { name, version }: WantedPackage): string | null {
  return version ?? recordedVersion(folder, name);
}

/** Whether a package is there as a cell asks for it, and the folder's package.json keeps it. */
export function isProvided(folder: string, { name, version }: WantedPackage): boolean {
  const [is, kept] = [installedVersion(folder, name), recordedVersion(folder, name)];
  if (is === null || kept === null) return false;
  // What a package.json of the user's own says in other words than a version, npm has seen to.
  if (version === null) return is === kept || !isExactVersion(kept);
  return is === version && kept === version;
}

/** The line for a terminal that installs packages, given as `name@version`, into a folder. */
export function installLine(folder: string, specs: readonly string[]): string {
  const place = /\s/.test(folder) ? JSON.stringify(folder) : folder;
  return `npm install --prefix ${place} --save-exact --ignore-scripts ${specs.join(" ")}`;
}

function textIn(file: string, path: readonly string[]): string | null {
  try {
    let value: unknown = JSON.parse(readFileSync(file, "utf8"));
    for (const key of path) value = (value as Record<string, unknown> | undefined)?.[key];
    return typeof value === "string" ? value : null;
  } catch {
    return null;
  }
}

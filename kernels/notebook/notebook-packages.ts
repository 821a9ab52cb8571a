import {
  askedVersion,
  installedVersion,
  installLine,
} from "../session/packages/installed-package.js";
import { PackageFault } from "../session/packages/package-fault.js";
import { type WantedPackage, wantedPackages } from "../session/packages/wanted-packages.js";
import { type CodeCell, type Metadata, type Notebook, runs } from "./notebook.js";
import { NotebookFault } from "./notebook-fault.js";

/** Package → version. */
export type PackageVersions = Readonly<Record<string, string>>;

interface AskedPackage {
  readonly cell: CodeCell;
  readonly name: string;
  /** By the cell itself, by what it showed when it was stored, or by the record; null for any. */
  readonly version: string | null;
}

/**
 * The packages that a notebook's cells ask for by `// install`, in the versions that an import in
 * the folder finds. Throws NotebookFault with all that are missing, or there in another version
 * than the notebook ran with, and the one line that installs them.
 */
export function packagesOf(notebook: Notebook, folder: string): PackageVersions {
  const asked = askedPackages(notebook, folder);
  const missing = asked.filter(({ name, version }) => {
    const is = installedVersion(folder, name);
    return is === null || (version !== null && is !== version);
  });
  if (missing.length > 0) {
    const specs = missing.map(({ name, version }) => (version ? `${name}@${version}` : name));
    const line = installLine(folder, [...new Set(specs)]);
    throw new NotebookFault([
      ...missing.map((one) => missingText(one, installedVersion(folder, one.name))),
      `a run installs nothing by itself; this does: ${line}`,
    ]);
  }
  return versionsFound(asked, folder);
}

/** The same, without those that are missing. */
export function packagesFound(notebook: Notebook, folder: string): PackageVersions {
  return versionsFound(askedPackages(notebook, folder), folder);
}

/** A notebook's metadata with the packages that it ran with on record, where there are any. */
export function withPackages(metadata: Metadata, packages: PackageVersions): Metadata {
  const { banquette, ...others } = metadata;
  const { packages: _, ...kept } = plain(banquette);
  const own = Object.keys(packages).length > 0 ? { ...kept, packages } : kept;
  return Object.keys(own).length > 0 ? { ...others, banquette: own } : others;
}

function askedPackages(notebook: Notebook, folder: string): readonly AskedPackage[] {
  const faults: string[] = [];
  const asked = notebook.cells.filter(runs).flatMap((cell) => {
    try {
      const shown = recordOf(cell.outputs.map((one) => ("metadata" in one ? one.metadata : {})));
      const stored = { ...recordOf([notebook.metadata]), ...shown };
      return wantedPackages(cell.source).map((one) => ({
        cell,
        name: one.name,
        version: versionAsked(one, stored, folder),
      }));
    } catch (error) {
      if (!(error instanceof PackageFault)) throw error;
      faults.push(`cell "${cell.id}": ${error.message}`);
      return [];
    }
  });
  if (faults.length > 0) throw new NotebookFault(faults);
  return asked;
}

function versionAsked(
  wanted: WantedPackage,
  stored: PackageVersions,
  folder: string,
): string | null {
  return wanted.version ?? stored[wanted.name] ?? askedVersion(folder, wanted);
}

function recordOf(metadata: readonly Metadata[]): PackageVersions {
  const records = metadata.map(({ banquette }) => plain(plain(banquette).packages));
  const entries = records.flatMap((one) => Object.entries(one));
  return Object.fromEntries(
    entries.filter((entry): entry is [string, string] => typeof entry[1] === "string"),
  );
}

function plain(value: unknown): Metadata {
  return typeof value === "object" && value !== null ? (value as Metadata) : {};
}

function missingText({ cell, name, version }: AskedPackage, is: string | null): string {
  const asks = `cell "${cell.id}" asks for the package ${version ? `${name} ${version}` : name}`;
  return is === null ? `${asks}, which is not installed here` : `${asks}, and here is ${is}`;
}

function versionsFound(asked: readonly AskedPackage[], folder: string): PackageVersions {
  const found = asked.map(({ name }) => [name, installedVersion(folder, name)] as const);
  return Object.fromEntries(found.filter((one): one is [string, string] => one[1] !== null));
}

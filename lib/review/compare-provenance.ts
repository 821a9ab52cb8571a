import { createHash } from "node:crypto";
import { valueDifferences } from "./compare-values.js";
import type { ExecutedCell } from "./executed-notebook.js";
import type { HashDifference, ValueDifference, WordDifference } from "./review.js";

/** Of provenance.json, what a review looks at; a notebook of one's own may leave parts out. */
export interface StoredProvenance {
  readonly inputs?: readonly { readonly path: string; readonly sha256: string }[];
  readonly cells?: readonly { readonly id: string; readonly sha256: string }[];
  readonly versions?: VersionsOfRun;
  readonly [part: string]: unknown;
}

export interface VersionsOfRun {
  readonly banquette: string;
  readonly node: string;
  readonly packages: Readonly<Record<string, string>>;
}

/** Input files whose hash is another one now, that are gone, or that are new. */
export function inputDifferences(
  stored: StoredProvenance,
  inputsNow: ReadonlyMap<string, string>,
): readonly HashDifference[] {
  const was = new Map((stored.inputs ?? []).map(({ path, sha256 }) => [path, sha256]));
  return mapDifferences(was, inputsNow);
}

/** Cells whose code is not the code that ran, by its hash; the run's own parameters left out. */
export function codeDifferences(
  stored: StoredProvenance,
  cells: readonly ExecutedCell[],
): readonly HashDifference[] {
  if (stored.cells === undefined) return [];
  const was = new Map(stored.cells.map(({ id, sha256 }) => [id, sha256]));
  const own = cells.filter(({ isInjected }) => !isInjected);
  return mapDifferences(was, new Map(own.map(({ id, source }) => [id, sha256(source)])));
}

/** Cells that stand in another order than they did when they ran; a sentence, or nothing. */
export function placeDifferences(
  stored: StoredProvenance,
  cells: readonly ExecutedCell[],
): readonly string[] {
  const now = cells.map(({ id }) => id);
  const was = (stored.cells ?? []).map(({ id }) => id).filter((id) => now.includes(id));
  const is = now.filter((id) => was.includes(id));
  const moved = was.filter((id, i) => is[i] !== id);
  if (moved.length === 0) return [];
  return [`the cells ${moved.join(", ")} stand in another order than when they ran`];
}

export function versionDifferences(
  { versions }: StoredProvenance,
  now: VersionsOfRun,
): readonly WordDifference[] {
  return versions === undefined ? [] : mapDifferences(byName(versions), byName(now));
}

function byName({ banquette, node, packages }: VersionsOfRun): ReadonlyMap<string, string> {
  return new Map([["banquette", banquette], ["node", node], ...Object.entries(packages)]);
}

/** Decisions, seeds and steps: all that is neither told by hash nor by version. */
export function recordDifferences(
  stored: StoredProvenance,
  again: StoredProvenance,
  tolerance: number,
): readonly ValueDifference[] {
  return valueDifferences(recordOf(stored), recordOf(again), tolerance).map((one) => ({
    file: "provenance.json",
    ...one,
  }));
}

function recordOf({
  inputs: _,
  cells: __,
  versions: ___,
  notebook: ____,
  ...record
}: StoredProvenance) {
  return record;
}

function mapDifferences(
  was: ReadonlyMap<string, string>,
  is: ReadonlyMap<string, string>,
): readonly HashDifference[] {
  return [...new Set([...was.keys(), ...is.keys()])].flatMap((name) => {
    const [one, other] = [was.get(name) ?? null, is.get(name) ?? null];
    return one === other ? [] : [{ name, was: one, is: other }];
  });
}

function sha256(text: string): string {
  return createHash("sha256").update(text).digest("hex");
}

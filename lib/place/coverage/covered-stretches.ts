import { firstOf, lastOf, valueAt } from "../../numerics/arrays.js";
import { runsWhere } from "../../numerics/runs.js";
import type { Centreline, Pass } from "../../survey/survey.js";

/** A stretch of the bank by its chainages. */
export interface Range {
  readonly from_m: number;
  readonly to_m: number;
}

export interface CoveredStretch extends Range {
  readonly kind: "measured" | "bridged" | "none";
}

/** Readings further apart than this leave a stretch uncovered, m. */
export const CELL_M = 5;

/** What a cell of the bank holds, from the least to the most. */
const KINDS = ["none", "bridged", "measured"] as const;

/** Those of the stretches without readings in use. */
export function emptyOf(stretches: readonly CoveredStretch[]): readonly CoveredStretch[] {
  return stretches.filter(({ kind }) => kind === "none");
}

export function totalLength_m(stretches: readonly Range[]): number {
  return stretches.reduce((sum, { from_m, to_m }) => sum + to_m - from_m, 0);
}

/** The whole bank in order, cut where the pass has readings in use, bridged ones only, or none. */
export function stretchesOf(
  centreline: Centreline,
  pass: Pass,
  inUse: Uint8Array,
): readonly CoveredStretch[] {
  const { first_m, last_m } = endsOf(centreline);
  const n = Math.max(1, Math.round((last_m - first_m) / CELL_M));
  const cells = new Float64Array(n);
  for (const [i, x] of pass.chainage_m.entries()) {
    if (!(x >= first_m && x <= last_m) || inUse[i] === 0) continue;
    const at = Math.min(n - 1, Math.floor((x - first_m) / CELL_M));
    cells[at] = Math.max(valueAt(cells, at), pass.positionBridged?.[i] === 1 ? 1 : 2);
  }
  const runs = KINDS.flatMap((kind, level) =>
    runsWhere(cells, (cell) => cell === level).map((run) => ({ ...run, kind })),
  );
  return runs
    .sort((one, other) => one.first - other.first)
    .map(({ first, last, kind }) => ({
      from_m: first_m + first * CELL_M,
      to_m: last + 1 === n ? last_m : first_m + (last + 1) * CELL_M,
      kind,
    }));
}

/** Chainages of the ends of the bank. */
export function endsOf({ chainage_m }: Centreline) {
  return { first_m: firstOf(chainage_m), last_m: lastOf(chainage_m) };
}

import type { EvidenceName } from "../../seepage/seepage.js";
import type { EvidenceCells, IncidentRecord } from "../record/reach-record.js";

/** Evidence of one reach with its recorded incidents. */
export interface ReachEvidence {
  readonly reach: string;
  readonly cells: EvidenceCells;
  readonly incidents: readonly IncidentRecord[];
}

/** A stretch of bank, and whether water or sand came out there on record. */
export interface EvidenceWindow {
  readonly hasIncident: boolean;
  /** One value a piece, 0 to 1; NaN where nothing is known. */
  readonly value: Float64Array;
}

/**
 * A reach's bank in windows as long as an incident reaches to both sides: one about each recorded
 * incident of water (those nearer to each other than half a window are one), and one after the
 * other over what lies away from all of them. Both kinds are as long, so what their cells show at
 * the most compares. A window without a cell is left out.
 */
export function evidenceWindows(
  { cells, incidents }: ReachEvidence,
  names: readonly EvidenceName[],
  reach_m: number,
): readonly EvidenceWindow[] {
  const wet = apart(
    incidents.filter(({ isWet }) => isWet).map((one) => one.chainage_m),
    reach_m,
  );
  const at = (from_m: number, hasIncident: boolean): readonly EvidenceWindow[] => {
    const rows = cells.chainage_m.flatMap((x, i) => {
      return x >= from_m && x < from_m + 2 * reach_m ? [i] : [];
    });
    return rows.length === 0 ? [] : [{ hasIncident, value: mostOf(cells, names, rows) }];
  };
  return [
    ...wet.flatMap((x) => at(x - reach_m, true)),
    ...away(cells, wet, reach_m).flatMap((from_m) => at(from_m, false)),
  ];
}

function apart(chainages: readonly number[], least_m: number): readonly number[] {
  const kept: number[] = [];
  for (const x of chainages.toSorted((one, other) => one - other)) {
    if (!(x - (kept.at(-1) ?? Number.NEGATIVE_INFINITY) < least_m)) kept.push(x);
  }
  return kept;
}

/** Starts of the windows that touch no incident's. */
function away({ chainage_m }: EvidenceCells, wet: readonly number[], reach_m: number) {
  const starts: number[] = [];
  const last_m = chainage_m.at(-1) ?? Number.NEGATIVE_INFINITY;
  let from_m = chainage_m[0] ?? Number.POSITIVE_INFINITY;
  while (from_m + 2 * reach_m <= last_m + 1e-9) {
    const near = wet.find((x) => x + reach_m > from_m && x - reach_m < from_m + 2 * reach_m);
    if (near === undefined) starts.push(from_m);
    from_m = near === undefined ? from_m + 2 * reach_m : near + reach_m;
  }
  return starts;
}

function mostOf(
  { pieces }: EvidenceCells,
  names: readonly EvidenceName[],
  rows: readonly number[],
) {
  return Float64Array.from(names, (name) => {
    const known = rows.flatMap((i) => pieces[name]?.[i] ?? []);
    return known.length === 0 ? Number.NaN : Math.max(...known);
  });
}

import type { HeadResponse } from "../../campaigns/head/head-response.js";
import { strongestSlice } from "../../campaigns/head/head-response.js";
import type { Changes } from "../../campaigns/pair/changes.js";
import { riverLevelAt } from "../../survey/river-level.js";
import type { Survey } from "../../survey/survey.js";
import { type Cells, type Presence, unknownPiece } from "./piece.js";

const NAME = "wetter at high water";
/** Rivers that differ by less than this tell nothing, m. */
const LEAST_RISE_M = 0.3;

/**
 * What the campaigns say of the water: pairs of them, and from three on the response to the head.
 */
export interface WaterEvidence {
  readonly changes: readonly Changes[];
  readonly head: HeadResponse | null;
}

/**
 * Stretches whose resistivity was lower in the campaign with the higher river, or follows the head
 * over three campaigns and more. Where both are known they rest on the same readings: the response
 * is taken where it speaks, and not added.
 */
export function wetterAtHighWater(
  cells: Cells,
  { changes, head }: WaterEvidence,
  survey: Survey,
): Presence {
  const compared = changes.flatMap((change) => {
    const rise = riverRise(survey, change);
    return rise !== null && Math.abs(rise) >= LEAST_RISE_M ? [{ change, rise }] : [];
  });
  if (compared.length === 0 && head === null) return unknownPiece(cells, NAME, whyUnknown(changes));
  const value = cells.chainage_m.map((x) => {
    const answer = head === null ? Number.NaN : responseAt(cells, head, x);
    return Number.isNaN(answer) ? fallAt(cells, compared, x) : answer;
  });
  return {
    name: NAME,
    value,
    source:
      head === null
        ? "two walks of the crest, compared channel by channel at 25 °C"
        : `response of the crest's resistivity to ${head.point === "river" ? "the river" : head.point}`,
    statement: (share) =>
      share > 0
        ? "Resistivity was lower while the water stood higher."
        : "No significant fall of resistivity while the water stood higher.",
    unknown: "Not known here: one of the walks has no reading.",
  };
}

function whyUnknown(changes: readonly Changes[]): string {
  return changes.length === 0
    ? "Not known: one campaign only."
    : "Not known: the river's level at the campaigns is not recorded, or hardly differs.";
}

interface Compared {
  readonly change: Changes;
  readonly rise: number;
}

function fallAt(cells: Cells, compared: readonly Compared[], x: number): number {
  const known = compared.filter(
    ({ change }) => !change.unknown.some((gap) => gap.from_m <= x && x <= gap.to_m),
  );
  if (known.length === 0) return Number.NaN;
  const isWetter = known.some(({ change, rise }) =>
    change.changes.some(
      (stretch) => covers(cells, stretch, x) && stretch.direction === (rise > 0 ? "fell" : "rose"),
    ),
  );
  return isWetter ? 1 : 0;
}

function responseAt(cells: Cells, { stretches }: HeadResponse, x: number): number {
  const here = stretches.find((stretch) => covers(cells, stretch, x));
  if (here === undefined) return Number.NaN;
  return here.responds && strongestSlice(here).ratioPerMetre < 1 ? 1 : 0;
}

function covers(
  { half_m }: Cells,
  { from_m, to_m }: { readonly from_m: number; readonly to_m: number },
  x: number,
): boolean {
  return from_m - half_m <= x && x <= to_m + half_m;
}

/** River level at the later campaign minus that at the earlier, m; null where not recorded. */
export function riverRise(
  survey: Survey,
  pair: { readonly earlier: string; readonly later: string },
): number | null {
  const rise = riverLevelAt(survey, pair.later) - riverLevelAt(survey, pair.earlier);
  return !Number.isNaN(rise) ? rise : null;
}

import { valueAt } from "../numerics/arrays.js";
import type { Incident } from "../survey/survey.js";
import { wetIncidents } from "./evidence/noted.js";
import type { Cells, Presence } from "./evidence/piece.js";
import type { SeepageOptions } from "./options.js";
import type { EvidenceName, EvidenceWeight, UsedWeight } from "./seepage.js";

interface Evidence {
  readonly cells: Cells;
  readonly presences: readonly Presence[];
  readonly incidents: readonly Incident[];
}

/**
 * The weights that are used. With `leastIncidents` incidents of water or more, each piece's weights
 * are estimated from them, W⁺ = ln(P(present | incident)/P(present | none)), W⁻ alike, and combined
 * with the declared ones by their variances; that of an estimate is 1/n over what stands in its
 * four counts. With fewer the error of a weight is as large as what weights differ by (ten
 * incidents give
 * 0.3 at the best and about 0.5 where half of them show the piece), so the declared ones stand.
 * Incidents do not weigh themselves.
 * Source: Bonham-Carter 1994, Geographic Information Systems for Geoscientists, 9 (weights,
 * errors).
 */
export function usedWeights(
  { cells, presences, incidents }: Evidence,
  used: SeepageOptions,
): Readonly<Record<EvidenceName, UsedWeight>> {
  const wet = wetIncidents(incidents);
  const entries = presences.map(({ name, value }): [EvidenceName, UsedWeight] => {
    const declared = declaredWeight(used.weights[name], used.weightRange);
    if (wet.length < used.leastIncidents || name === "recorded incident") return [name, declared];
    const found = countsAt(cells, value, { wet, reach_m: used.reach_m.incident });
    return [name, found === null ? declared : combined(declared, found)];
  });
  return Object.fromEntries(entries) as Record<EvidenceName, UsedWeight>;
}

/** An even range of ± share about a weight has this standard deviation. */
function declaredWeight(weight: EvidenceWeight, share: number): UsedWeight {
  const most = Math.max(Math.abs(weight.present), Math.abs(weight.absent));
  return { ...weight, sd: (share * most) / Math.sqrt(3), from: "declared" };
}

/**
 * Of incidents and of the cells away from them: how much shows the piece, and how much does not.
 */
interface Counts {
  readonly at: readonly [present: number, absent: number];
  readonly away: readonly [present: number, absent: number];
}

function countsAt(
  { chainage_m }: Cells,
  value: Float64Array,
  { wet, reach_m }: { readonly wet: readonly Incident[]; readonly reach_m: number },
): Counts | null {
  const near = (x: number, one: Incident) => Math.abs(x - one.chainage_m) <= reach_m;
  const at: [number, number] = [0.5, 0.5];
  for (const one of wet) {
    const values = [...value].filter(
      (v, i) => !Number.isNaN(v) && near(valueAt(chainage_m, i), one),
    );
    if (values.length === 0) continue;
    const most = Math.max(...values);
    at[0] += most;
    at[1] += 1 - most;
  }
  const away: [number, number] = [0.5, 0.5];
  for (const [i, v] of value.entries()) {
    if (Number.isNaN(v) || wet.some((one) => near(valueAt(chainage_m, i), one))) continue;
    away[0] += v;
    away[1] += 1 - v;
  }
  return at[0] + at[1] > 2 && away[0] + away[1] > 2 ? { at, away } : null;
}

function combined(declared: UsedWeight, { at, away }: Counts): UsedWeight {
  const share = (k: 0 | 1) => {
    const estimate = Math.log(at[k] / (at[0] + at[1])) - Math.log(away[k] / (away[0] + away[1]));
    return { estimate, precision: 1 / (1 / at[k] + 1 / away[k]) };
  };
  const prior = 1 / Math.max(declared.sd, LEAST_SD) ** 2;
  const towards = (k: 0 | 1, weight: number) => {
    const { estimate, precision } = share(k);
    return (prior * weight + precision * estimate) / (prior + precision);
  };
  const precision = prior + Math.min(share(0).precision, share(1).precision);
  return {
    present: towards(0, declared.present),
    absent: towards(1, declared.absent),
    sd: 1 / Math.sqrt(precision),
    from: "incidents",
  };
}

/** A declared weight of nothing still leaves incidents something to say. */
const LEAST_SD = 0.2;

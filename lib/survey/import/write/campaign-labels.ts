import type { FirstPass } from "./first-pass.js";

/** A campaign that a survey has already. */
export interface KnownCampaign {
  readonly label: string;
  readonly first_s: number;
  readonly last_s: number;
}

/** Files this far apart in time are of two visits, s: a fortnight. */
const APART_S = 14 * 86_400;

/**
 * The campaign of each measured table: the one it was told, or that of the visit that its time
 * falls in, named by the month of its first reading (by its day where that month has a campaign).
 */
export function campaignLabels(
  passes: readonly FirstPass[],
  known: readonly KnownCampaign[],
): ReadonlyMap<FirstPass, string> {
  const labels = new Map<FirstPass, string>();
  const visits: KnownCampaign[] = [...known];
  const measured = passes.filter(({ plan }) => plan.instrument !== null);
  for (const pass of measured.toSorted((one, other) => one.first_s - other.first_s)) {
    const { first_s, last_s, plan } = pass;
    const near = visits.find(
      (visit) => first_s - visit.last_s < APART_S && visit.first_s - last_s < APART_S,
    );
    const label = plan.campaign ?? near?.label ?? newLabel(first_s, visits);
    labels.set(pass, label);
    visits.push({ label, first_s, last_s });
  }
  return labels;
}

function newLabel(first_s: number, visits: readonly KnownCampaign[]): string {
  if (Number.isNaN(first_s)) return "1";
  const day = new Date(1000 * first_s).toISOString().slice(0, 10);
  const month = day.slice(0, 7);
  return visits.some(({ label }) => label === month) ? day : month;
}

import type { SurveyCheck } from "../../lib/index.js";

export interface CheckPlaces {
  /** The folder as it was named. */
  readonly folder: string;
  /** The page that was written; undefined where none was. */
  readonly html: string | undefined;
}

/**
 * What a check comes to: what was read, what the steps can do with it and how much there is to
 * heed; then what was written and what to do next. Where there are faults, only what was written.
 */
export function checkClosingWords(check: SurveyCheck, { folder, html }: CheckPlaces): string {
  const written = html === undefined ? [] : [`Written to ${html}`];
  if (check.faults.length > 0) return written.join("\n");
  const without = check.steps.filter(({ ready }) => !ready).map(({ step }) => step);
  const lacking = without.length === 0 ? "" : ` (not ${without.join(", ")})`;
  const ready = check.steps.length - without.length;
  return [
    `${readingsText(check)}; ${ready} of ${check.steps.length} steps have what they need${lacking}; ` +
      counted(check.cautions.length, "caution"),
    ...written,
    `Next: banquette appendix ${folder.includes(" ") ? `"${folder}"` : folder}`,
  ].join("\n");
}

function readingsText({ summary }: SurveyCheck): string {
  const readings = summary.filter(({ role }) => role === "readings");
  const rows = readings.reduce((sum, one) => sum + one.rows, 0);
  const campaigns = new Set(readings.map(({ campaign }) => campaign)).size;
  return `${counted(rows, "reading")} of ${counted(campaigns, "campaign")}`;
}

const counted = (count: number, noun: string) =>
  `${count.toLocaleString("en")} ${noun}${count === 1 ? "" : "s"}`;
